/** A picture with marks and curves picked on it: pressed, dragged, or moved by keys. */
import { useRef, useState } from 'preact/hooks';
import type { FlatPoint } from '../../shared/boat/points.ts';

export interface TracePicture {
  readonly url: string;
  readonly width: number;
  readonly height: number;
}

/** Points that belong together, and whether they are joined. */
export interface PickedPoints {
  readonly name: string;
  readonly points: readonly FlatPoint[];
  readonly isLine: boolean;
}

interface Props {
  readonly picture: TracePicture;
  readonly picked: readonly PickedPoints[];
  /** Which of them a press adds to, or undefined. */
  readonly active: number | undefined;
  readonly set: (i: number, points: readonly FlatPoint[]) => void;
}

const STEPS: Readonly<Record<string, FlatPoint>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

export function PictureTrace(props: Props) {
  const { picture, picked, active, set } = props;
  const [zoom, setZoom] = useState(1);
  const sheet = useRef<HTMLDivElement>(null);
  const current = active === undefined ? undefined : picked[active];
  const add = (point: FlatPoint) => {
    if (active !== undefined && current) set(active, [...current.points, point]);
  };
  const pixelOf = (e: MouseEvent): FlatPoint => {
    const box = sheet.current?.getBoundingClientRect();
    const k = box ? picture.width / box.width : 1;
    return [round((e.clientX - (box?.left ?? 0)) * k), round((e.clientY - (box?.top ?? 0)) * k)];
  };
  return (
    <>
      <Larger zoom={zoom} set={setZoom} />
      <div class="trace">
        <div ref={sheet} class="trace-sheet" style={{ width: `${zoom * 100}%` }}>
          {/* biome-ignore lint/a11y/useKeyWithClickEvents: a point is added by keys with the button below */}
          <img
            src={picture.url}
            alt="The drawing to trace"
            draggable={false}
            onClick={(e) => add(pixelOf(e))}
          />
          <Curves {...props} />
          <Points {...props} pixelOf={pixelOf} />
        </div>
      </div>
      <button
        type="button"
        class="quiet"
        disabled={!current}
        onClick={() => add([picture.width / 2, picture.height / 2])}
      >
        add a point in the middle, to be moved with the arrow keys
      </button>
    </>
  );
}

const Curves = ({ picture, picked, active }: Props) => (
  <svg viewBox={`0 0 ${picture.width} ${picture.height}`} aria-hidden="true">
    {picked.map(
      (one, i) =>
        one.isLine &&
        one.points.length > 0 && (
          <path
            key={i}
            class={i === active ? 'now' : ''}
            d={`M${one.points.map((p) => p.join()).join('L')}`}
          />
        ),
    )}
  </svg>
);

interface PointsProps extends Props {
  readonly pixelOf: (e: MouseEvent) => FlatPoint;
}

function Points({ picture, picked, active, set, pixelOf }: PointsProps) {
  const place = ([x, y]: FlatPoint) => ({
    left: `${((x / picture.width) * 100).toFixed(3)}%`,
    top: `${((y / picture.height) * 100).toFixed(3)}%`,
  });
  return (
    <>
      {picked.map((one, i) =>
        one.points.map((p, j) => (
          <button
            key={`${i}-${j}`}
            type="button"
            class={`trace-point ${i === active ? 'now' : ''}`}
            style={place(p)}
            aria-label={`${one.name}, point ${j + 1}`}
            title="Drag it, or move it with the arrow keys; Delete removes it."
            onPointerDown={(e) => e.currentTarget.setPointerCapture(e.pointerId)}
            onPointerMove={(e) => {
              if (e.currentTarget.hasPointerCapture(e.pointerId))
                set(i, one.points.with(j, pixelOf(e)));
            }}
            onKeyDown={(e) => {
              const next = byKey(e, one.points, j);
              if (!next) return;
              set(i, next);
              e.preventDefault();
            }}
          >
            {one.isLine ? '' : j + 1}
          </button>
        )),
      )}
    </>
  );
}

/** The points with one moved or taken out by a key; undefined for another key. */
function byKey(
  { key, shiftKey }: KeyboardEvent,
  points: readonly FlatPoint[],
  j: number,
): readonly FlatPoint[] | undefined {
  if (key === 'Delete') return points.toSpliced(j, 1);
  const way = STEPS[key];
  const [x, y] = points[j] ?? [0, 0];
  const by = shiftKey ? 10 : 1;
  return way && points.with(j, [x + way[0] * by, y + way[1] * by]);
}

const round = (value: number) => Math.round(value * 10) / 10;

/** How much larger a picture is shown. */
export const Larger = ({ zoom, set }: { zoom: number; set: (zoom: number) => void }) => (
  <label class="source-options">
    larger{' '}
    <input
      type="range"
      min="1"
      max="6"
      step="0.5"
      value={zoom}
      onInput={(e) => set(e.currentTarget.valueAsNumber)}
    />
  </label>
);
