/** A scan from four sides, with what is picked on it; a press picks the place it falls on. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { FlatPoint, Point } from '../../shared/boat/points.ts';
import { Larger } from './picture-trace.tsx';

type Axis = 0 | 1 | 2;

/** Which axis runs to the right (to the left where mirrored), up, and towards the viewer. */
interface CloudSide {
  readonly across: Axis;
  readonly isMirrored: boolean;
  readonly up: Axis;
  readonly depth: Axis;
  /** Whether the viewer stands at large values of the depth. */
  readonly isFromFar: boolean;
}

const SIDES = {
  'from one side': { across: 0, isMirrored: false, up: 2, depth: 1, isFromFar: false },
  'from the other side': { across: 0, isMirrored: true, up: 2, depth: 1, isFromFar: true },
  'from above': { across: 0, isMirrored: false, up: 1, depth: 2, isFromFar: true },
  'end on': { across: 1, isMirrored: false, up: 2, depth: 0, isFromFar: true },
} as const satisfies Readonly<Record<string, CloudSide>>;
type SideName = keyof typeof SIDES;
const SIDE_NAMES: readonly SideName[] = [
  'from one side',
  'from the other side',
  'from above',
  'end on',
];

const WIDTH = 640;
const HEIGHT = 300;
const MARGIN = 10;
/** Of how many points nearest to a press the middle one says how deep it lies. */
const NEAREST = 5;

interface Props {
  readonly cloud: readonly Point[];
  readonly picks: ReadonlyMap<string, readonly Point[]>;
  readonly pick: (at: Point) => void;
}

export function CloudDrawing({ cloud, picks, pick }: Props) {
  const [name, setName] = useState<SideName>('from one side');
  const [zoom, setZoom] = useState(1);
  const canvas = useRef<HTMLCanvasElement>(null);
  const side = SIDES[name];
  const paper = paperOf(cloud, side, zoom);
  useEffect(() => {
    const picked = [...picks.values()].flat().map(paper.spot);
    if (canvas.current) draw(canvas.current, cloud.map(paper.spot), picked);
  }, [cloud, name, zoom, picks]);
  const press = (e: MouseEvent & { currentTarget: HTMLCanvasElement }) => {
    const box = e.currentTarget.getBoundingClientRect();
    const { width, height } = e.currentTarget;
    const at: FlatPoint = [
      ((e.clientX - box.left) * width) / box.width,
      ((e.clientY - box.top) * height) / box.height,
    ];
    pick(paper.placed(at, depthAt(cloud, side, paper.spot, at)));
  };
  return (
    <>
      <fieldset class="segments">
        <legend>look</legend>
        {SIDE_NAMES.map((one) => (
          <button key={one} type="button" aria-pressed={one === name} onClick={() => setName(one)}>
            {one}
          </button>
        ))}
      </fieldset>
      <Larger zoom={zoom} set={setZoom} />
      <div class="trace">
        <canvas
          ref={canvas}
          class="cloud"
          style={{ width: `${zoom * 100}%` }}
          width={WIDTH * zoom}
          height={HEIGHT * zoom}
          aria-label={`The scan ${name}`}
          onClick={press}
        />
      </div>
    </>
  );
}

/** A dot for every point, a disc for what is picked. */
function draw(
  canvas: HTMLCanvasElement,
  dots: readonly FlatPoint[],
  picked: readonly FlatPoint[],
): void {
  const paper = canvas.getContext('2d');
  if (!paper) return;
  const ink = getComputedStyle(canvas);
  paper.clearRect(0, 0, canvas.width, canvas.height);
  paper.fillStyle = ink.color;
  for (const [x, y] of dots) paper.fillRect(x, y, 1, 1);
  paper.fillStyle = ink.accentColor;
  for (const [x, y] of picked) {
    paper.beginPath();
    paper.arc(x, y, 4, 0, 7);
    paper.fill();
  }
}

/** Where a point is drawn, and the place of a spot of some depth. */
function paperOf(
  cloud: readonly Point[],
  { across, isMirrored, up, depth }: CloudSide,
  zoom: number,
) {
  const range = (axis: Axis): FlatPoint => {
    const all = cloud.map((p) => p[axis]);
    return [
      all.reduce((a, b) => Math.min(a, b), Infinity),
      all.reduce((a, b) => Math.max(a, b), -Infinity),
    ];
  };
  const [low, high] = range(across);
  const [bottom, top] = range(up);
  const per =
    zoom *
    Math.min((WIDTH - 2 * MARGIN) / (high - low || 1), (HEIGHT - 2 * MARGIN) / (top - bottom || 1));
  const start = isMirrored ? high : low;
  const way = isMirrored ? -per : per;
  const spot = (point: Point): FlatPoint => [
    MARGIN + (point[across] - start) * way,
    MARGIN + (top - point[up]) * per,
  ];
  const placed = ([x, y]: FlatPoint, deep: number): Point => {
    const place: [number, number, number] = [0, 0, 0];
    place[across] = start + (x - MARGIN) / way;
    place[up] = top - (y - MARGIN) / per;
    place[depth] = deep;
    return place;
  };
  return { spot, placed };
}

/** How deep the surface lies at a spot, on the viewer's side; strays before it do not count. */
function depthAt(
  cloud: readonly Point[],
  { depth, isFromFar }: CloudSide,
  spot: (point: Point) => FlatPoint,
  at: FlatPoint,
): number {
  const middle = medianOf(cloud.map((p) => p[depth]));
  const facing = cloud.filter((p) => (isFromFar ? p[depth] >= middle : p[depth] <= middle));
  const near = facing
    .map((point) => {
      const [x, y] = spot(point);
      return { away: Math.hypot(x - at[0], y - at[1]), deep: point[depth] };
    })
    .toSorted((one, other) => one.away - other.away);
  return medianOf(near.slice(0, NEAREST).map(({ deep }) => deep));
}

function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}
