/** The boat from the side as entered, with points of one outline that can be dragged. */
import { useRef } from 'preact/hooks';
import { useBoat, useEditing } from '../session/context.tsx';
import { Gesture, isHeld } from '../session/working-copy/gesture.ts';
import { at, isMapping, mapping } from '../shared/boat/document.ts';
import { linesOf } from '../shared/boat/hull-lines.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import { quantity } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';

const WIDTH = 600;
const MARGIN = 0.4; // m
const FINE_M = 0.01;

export interface DrawnOutline {
  readonly name: string;
  readonly points: readonly FlatPoint[];
}

interface Props {
  readonly label: string;
  /** Outlines that stand there. */
  readonly others: readonly DrawnOutline[];
  /** The one that can be changed; its points stand in the order they are joined. */
  readonly own: readonly FlatPoint[];
  readonly set: (points: readonly FlatPoint[], gesture: string, what: string) => void;
  readonly fewest: number;
}

export function SideDrawing(props: Props) {
  const { label, others, own } = props;
  const { document } = useBoat();
  const { readOnly } = useEditing();
  const lines = linesOf(document).map(({ id, points }) => ({
    name: id,
    points: points.map(([x, , z]): FlatPoint => [x, z]),
  }));
  const fresh = scaleOf([...lines, ...others, { name: '', points: own }]);
  const scale = useRef(fresh);
  if (!isHeld()) scale.current = fresh; // while a point is dragged the drawing holds still
  const { x, z, height } = scale.current;
  const path = (points: readonly FlatPoint[]) =>
    `M${points.map((p) => `${x(p[0]).toFixed(1)},${z(p[1]).toFixed(1)}`).join('L')}`;
  return (
    <div class="side-drawing">
      <svg
        viewBox={`0 0 ${WIDTH} ${height.toFixed(0)}`}
        role="img"
        aria-label={`${label} from the side`}
      >
        <path class="water" d={`M0,${z(0)}H${WIDTH}`} />
        {lines.map((line) => (
          <path key={line.name} class="line" d={path(line.points)} />
        ))}
        {others.map((one) => (
          <path key={one.name} class="other" d={path(one.points)} />
        ))}
        <path class="fill" d={path(carriedUp(own, lines[0]?.points ?? []))} />
        <path class="own" d={path(own)} />
      </svg>
      {!readOnly && <Handles {...props} scale={scale.current} />}
    </div>
  );
}

interface HandlesProps extends Props {
  readonly scale: SideScale;
}

/** The points that can be dragged, and those between them that become points. */
function Handles({ label, own, set, fewest, scale }: HandlesProps) {
  const gesture = useRef(new Gesture());
  const put = (points: readonly FlatPoint[], what: string) =>
    set(points, gesture.current.now(), `${label}, ${what}`);
  const moved = (points: readonly FlatPoint[], i: number, to: FlatPoint) =>
    put(points.with(i, [fine(to[0]), fine(to[1])]), `point ${i + 1}`);
  const drag = (points: readonly FlatPoint[], i: number) =>
    dragging(gesture.current, scale, (to) => moved(points, i, to));
  const onKeyDown =
    (i: number, [x, z]: FlatPoint) =>
    (e: KeyboardEvent) => {
      const way = wayOf(e);
      if (way) moved(own, i, [x + way[0], z + way[1]]);
      else if (e.key === 'Delete' && own.length > fewest)
        put(own.toSpliced(i, 1), 'a point removed');
      else return;
      e.preventDefault();
    };
  return (
    <>
      {between(own).map((middle, i) => {
        const more = own.toSpliced(i + 1, 0, middle);
        return (
          <button
            key={`between ${i}`}
            type="button"
            class="handle between"
            style={placeOf(middle, scale)}
            aria-label={`Add a point to ${label} after point ${i + 1}`}
            {...drag(more, i + 1)}
            onClick={(e) => e.detail === 0 && put(more, 'a point added')}
          />
        );
      })}
      {own.map((p, i) => (
        <button
          key={i}
          type="button"
          class="handle"
          style={placeOf(p, scale)}
          aria-label={`Point ${i + 1} of ${label}: ${quantity(p[0], 'm', 0.01)} aft, ${quantity(p[1], 'm', 0.01)} up`}
          title={keysWords()}
          onKeyDown={onKeyDown(i, p)}
          {...drag(own, i)}
        />
      ))}
    </>
  );
}

const keysWords = () =>
  `Drag it, or move it with the arrow keys: ${quantity(10, 'mm', 1)}, with Shift ` +
  `${quantity(100, 'mm', 1)}. Delete removes it.`;

const placeOf = ([x, z]: FlatPoint, scale: SideScale) => ({
  left: `${((scale.x(x) / WIDTH) * 100).toFixed(2)}%`,
  top: `${((scale.z(z) / scale.height) * 100).toFixed(2)}%`,
});

/** How far an arrow key moves a point [m]; undefined for another key. */
function wayOf({ key, shiftKey }: KeyboardEvent): FlatPoint | undefined {
  const way = STEPS[key];
  const by = shiftKey ? 0.1 : 0.01;
  return way && [way[0] * by, way[1] * by];
}

/** What follows the pointer from where it is pressed until it is lifted. */
const dragging = (gesture: Gesture, scale: SideScale, to: (spot: FlatPoint) => void): Drag => ({
  onPointerDown: (e) => {
    e.preventDefault();
    e.currentTarget.focus();
    e.currentTarget.setPointerCapture(e.pointerId);
    gesture.press();
  },
  onPointerMove: (e) => {
    const box = e.currentTarget.parentElement?.getBoundingClientRect();
    if (!box || !e.currentTarget.hasPointerCapture(e.pointerId)) return;
    const k = WIDTH / box.width;
    to(scale.metres((e.clientX - box.left) * k, (e.clientY - box.top) * k));
  },
  onPointerUp: () => gesture.lift(),
  onPointerCancel: () => gesture.lift(),
});

type Heard = (e: PointerEvent & { currentTarget: HTMLElement }) => void;
type Drag = Readonly<
  Record<'onPointerDown' | 'onPointerMove' | 'onPointerUp' | 'onPointerCancel', Heard>
>;

const STEPS: Readonly<Record<string, FlatPoint>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

const fine = (value: number) => Number((Math.round(value / FINE_M) * FINE_M).toFixed(3));

/** The middles between neighbouring points. */
const between = (points: readonly FlatPoint[]): readonly FlatPoint[] =>
  points.slice(1).map(([x, z], i): FlatPoint => {
    const [x0, z0] = points[i] ?? [x, z];
    return [fine((x0 + x) / 2), fine((z0 + z) / 2)];
  });

interface SideScale {
  readonly x: (metres: number) => number;
  readonly z: (metres: number) => number;
  readonly metres: (x: number, y: number) => FlatPoint;
  readonly height: number;
}

function scaleOf(outlines: readonly DrawnOutline[]): SideScale {
  const points = outlines.flatMap((one) => one.points);
  const xs = points.map(([x]) => x);
  const zs = [...points.map(([, z]) => z), 0];
  const left = Math.min(...xs) - MARGIN;
  const top = Math.max(...zs) + MARGIN;
  const per = WIDTH / (Math.max(...xs) + MARGIN - left);
  return {
    x: (m) => (m - left) * per,
    z: (m) => (top - m) * per,
    metres: (x, y) => [x / per + left, top - y / per],
    height: (top - Math.min(...zs) + MARGIN) * per,
  };
}

/** An outline with its open ends carried straight up to the hull's bottom. */
function carriedUp(own: readonly FlatPoint[], bottom: readonly FlatPoint[]): readonly FlatPoint[] {
  const end = (p: FlatPoint | undefined) =>
    p ? [[p[0], heightAt(bottom, p[0]) ?? p[1]] as const] : [];
  return [...end(own[0]), ...own, ...end(own.at(-1))];
}

/** Height of a line from the side at x [m], straight between its points; undefined beyond it. */
function heightAt(line: readonly FlatPoint[], x: number): number | undefined {
  const i = line.findIndex(([at]) => at >= x);
  const [x1, z1] = line[i] ?? [NaN, NaN];
  const [x0, z0] = line[i - 1] ?? [x1, z1];
  return x0 <= x && x <= x1 ? z0 + ((z1 - z0) * (x - x0)) / (x1 - x0 || 1) : undefined;
}

/** The outlines of all appendages but one, as the document has them. */
export function outlinesBeside(document: unknown, but: string): readonly DrawnOutline[] {
  return Object.entries(mapping(at(document, 'hull.appendages')))
    .filter(([name]) => name !== but)
    .map(([name, one]) => ({ name: plainWords(name), points: flatPoints(mapping(one).outline_m) }));
}

/** Pairs of numbers of a document, without what is none. */
export const flatPoints = (given: unknown): readonly FlatPoint[] =>
  (Array.isArray(given) ? given : []).filter(
    (p): p is FlatPoint => Array.isArray(p) && p.length === 2 && p.every(Number.isFinite),
  );

export const isTable = (given: unknown): given is readonly FlatPoint[] =>
  !isMapping(given) && flatPoints(given).length > 1;
