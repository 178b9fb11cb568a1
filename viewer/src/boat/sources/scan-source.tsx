/** Lines from a scan or point cloud: marks on the waterline, the foremost point, the chines. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { scanLines, scanPoints } from '../../session/hull-sources-api.ts';
import type { FlatPoint, Point } from '../../shared/boat/points.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { FileDrop } from '../../shared/files/file-drop.tsx';
import { number } from '../../shared/words/numbers.ts';
import { keyOf } from '../../shared/words/plain-words.ts';
import { Preview } from './preview.tsx';
import { UnitSelect } from './unit-select.tsx';

/** What is picked, and how many at most. */
const WATERLINE = 'waterline';
const BOW = 'foremost point';

export function ScanSource() {
  const { refit } = useBoat().working;
  const [file, setFile] = useState<File>();
  const [unit, setUnit] = useState('m');
  const [cloud, setCloud] = useState<readonly Point[]>();
  const [picks, setPicks] = useState<ReadonlyMap<string, readonly Point[]>>(new Map());
  const [preview, setPreview] = useState<LinesPreview>();
  const { busy, wrong, run } = useAction();
  const load = (given: File, as: string) => {
    setFile(given);
    setPicks(new Map());
    void run(async () => setCloud((await scanPoints(refit, given, as)).points_m));
  };
  const read = () =>
    file &&
    run(async () => {
      setPreview(undefined);
      const chines = [...picks].filter(([name]) => name !== WATERLINE && name !== BOW);
      setPreview(
        await scanLines(refit, file, unit, {
          waterline_m: picks.get(WATERLINE) ?? [],
          bow_m: picks.get(BOW)?.[0] ?? null,
          chines: Object.fromEntries(chines.map(([name, at]) => [keyOf(name, 'chine'), at])),
        }),
      );
    });
  return (
    <div class="source">
      <p class="about">
        A scan of the bare hull, z roughly up. Pick three or four marks on her waterline and her
        foremost point; points along each chine make it sharp. Strays and the holes of the cradle
        are dealt with.
      </p>
      <UnitSelect
        unit={unit}
        set={(next) => {
          setUnit(next);
          if (file) load(file, next);
        }}
        of={['m', 'cm', 'mm', 'ft', 'in']}
      />
      <FileDrop
        words="An OBJ, PLY, STL or XYZ file, dropped here or chosen:"
        accept=".obj,.ply,.stl,.xyz,.txt,.csv"
        take={(given) => load(given, unit)}
      >
        {file && <small role="status">{file.name}</small>}
      </FileDrop>
      {cloud && <PickOnCloud cloud={cloud} picks={picks} setPicks={setPicks} />}
      <button type="button" disabled={busy || !cloud} onClick={() => void read()}>
        {busy ? 'Reading…' : 'Read the scan'}
      </button>
      <RefusalMessage words={wrong} />
      {preview && <Preview preview={preview} note={file?.name ?? ''} />}
    </div>
  );
}

interface PickProps {
  readonly cloud: readonly Point[];
  readonly picks: ReadonlyMap<string, readonly Point[]>;
  readonly setPicks: (picks: ReadonlyMap<string, readonly Point[]>) => void;
}

/** From the side, from above, end on: which of the axes are drawn, and which is in the depth. */
const SIDES = {
  'from the side': [0, 2, 1],
  'from above': [0, 1, 2],
  'end on': [1, 2, 0],
} as const;
type SideName = keyof typeof SIDES;
const SIDE_NAMES: readonly SideName[] = ['from the side', 'from above', 'end on'];

function PickOnCloud({ cloud, picks, setPicks }: PickProps) {
  const [side, setSide] = useState<SideName>('from the side');
  const [what, setWhat] = useState(WATERLINE);
  const [chine, setChine] = useState('');
  const names = [...new Set([WATERLINE, BOW, ...picks.keys(), what])];
  const pick = (at: Point) => {
    const had = what === BOW ? [] : (picks.get(what) ?? []);
    setPicks(new Map([...picks, [what, [...had, at]]]));
  };
  return (
    <>
      <fieldset class="segments">
        <legend>look</legend>
        {SIDE_NAMES.map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={name === side}
            onClick={() => setSide(name)}
          >
            {name}
          </button>
        ))}
      </fieldset>
      <fieldset class="segments">
        <legend>a press picks</legend>
        {names.map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={name === what}
            onClick={() => setWhat(name)}
          >
            {name} ({picks.get(name)?.length ?? 0})
          </button>
        ))}
      </fieldset>
      <p class="source-options">
        <label>
          a chine, called <input value={chine} onInput={(e) => setChine(e.currentTarget.value)} />
        </label>{' '}
        <button type="button" disabled={chine.trim() === ''} onClick={() => setWhat(chine.trim())}>
          Pick along it
        </button>
      </p>
      <CloudDrawing cloud={cloud} side={side} picks={picks} pick={pick} />
      <ul>
        {[...picks].map(([name, points]) => (
          <li key={name}>
            {name}: {points.map((p) => p.map((v) => number(v, 0.01)).join(', ')).join(' · ')}{' '}
            <button
              type="button"
              class="quiet"
              aria-label={`Leave out the last of ${name}`}
              onClick={() => setPicks(new Map([...picks, [name, points.slice(0, -1)]]))}
            >
              leave out the last
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

const WIDTH = 640;
const HEIGHT = 300;
const MARGIN = 10;

interface CloudProps extends Pick<PickProps, 'cloud' | 'picks'> {
  readonly side: SideName;
  readonly pick: (at: Point) => void;
}

function CloudDrawing({ cloud, side, picks, pick }: CloudProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [across, up] = SIDES[side];
  const spot = scaleOf(cloud, across, up);
  useEffect(() => {
    if (canvas.current) draw(canvas.current, cloud.map(spot), [...picks.values()].flat().map(spot));
  }, [cloud, side, picks]);
  const press = (e: MouseEvent & { currentTarget: HTMLCanvasElement }) => {
    const box = e.currentTarget.getBoundingClientRect();
    const at: FlatPoint = [
      ((e.clientX - box.left) * WIDTH) / box.width,
      ((e.clientY - box.top) * HEIGHT) / box.height,
    ];
    const found = nearest(cloud, spot, at);
    if (found) pick(found);
  };
  return (
    <canvas
      ref={canvas}
      class="cloud"
      width={WIDTH}
      height={HEIGHT}
      aria-label={`The scan ${side}`}
      onClick={press}
    />
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
  paper.clearRect(0, 0, WIDTH, HEIGHT);
  paper.fillStyle = ink.color;
  for (const [x, y] of dots) paper.fillRect(x, y, 1, 1);
  paper.fillStyle = ink.accentColor;
  for (const [x, y] of picked) {
    paper.beginPath();
    paper.arc(x, y, 4, 0, 7);
    paper.fill();
  }
}

function scaleOf(cloud: readonly Point[], across: 0 | 1 | 2, up: 0 | 1 | 2) {
  const range = (axis: 0 | 1 | 2): FlatPoint => {
    const all = cloud.map((p) => p[axis]);
    return [
      all.reduce((a, b) => Math.min(a, b), Infinity),
      all.reduce((a, b) => Math.max(a, b), -Infinity),
    ];
  };
  const [left, right] = range(across);
  const [bottom, top] = range(up);
  const per = Math.min(
    (WIDTH - 2 * MARGIN) / (right - left || 1),
    (HEIGHT - 2 * MARGIN) / (top - bottom || 1),
  );
  return (point: Point): FlatPoint => [
    MARGIN + (point[across] - left) * per,
    MARGIN + (top - point[up]) * per,
  ];
}

/** The point of a cloud that is drawn nearest to a spot. */
function nearest(
  cloud: readonly Point[],
  spot: (point: Point) => FlatPoint,
  at: FlatPoint,
): Point | undefined {
  let best: Point | undefined;
  let least = Infinity;
  for (const point of cloud) {
    const [x, y] = spot(point);
    const away = (x - at[0]) ** 2 + (y - at[1]) ** 2;
    if (away < least) [best, least] = [point, away];
  }
  return best;
}
