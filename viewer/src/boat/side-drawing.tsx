/** The boat from the side as entered, with points of one outline that can be dragged. */
import { useRef, useState } from 'preact/hooks';
import { useBoat, useEditing, useSnapshot } from '../session/context.tsx';
import { isHeld } from '../session/working-copy/gesture.ts';
import { reasonsAt } from '../session/working-copy/snapshot.ts';
import { at, isMapping, mapping } from '../shared/boat/document.ts';
import { linesOf } from '../shared/boat/hull-lines.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import { heightAlong } from '../shared/boat/side-view.ts';
import { useSize } from '../shared/feedback/use-size.ts';
import { lengthField } from '../shared/grasp/dimension.ts';
import type { Graspable } from '../shared/grasp/graspable.ts';
import { Grip, Grips } from '../shared/grasp/grip.tsx';
import type { GraspAxis } from '../shared/grasp/steps.ts';
import { plainWords } from '../shared/words/plain-words.ts';

const WIDTH = 600;
const MARGIN = 0.4; // m
const ROOM_PX = 44; // between two points for a handle that makes a third
const FINE_M = 0.01;

interface DrawnOutline {
  readonly name: string;
  readonly points: readonly FlatPoint[];
}

interface Props {
  readonly label: string;
  /** Outlines that stand there. */
  readonly others: readonly DrawnOutline[];
  /** Where the one lies that can be changed; its points stand in the order they are joined. */
  readonly path: string;
  readonly fewest: number;
  /** Which numbers of its points are drawn, along and up or across. */
  readonly columns?: readonly [number, number];
  /** Whether it reaches up to the hull from its ends. */
  readonly hangs?: boolean;
}

const SEEN = ['from the side', 'from above'] as const;

export function SideDrawing(props: Props) {
  const { label, others, path, columns = [0, 1], hangs = true } = props;
  const { document } = useBoat();
  const { readOnly } = useEditing();
  const [box, width] = useSize<HTMLDivElement>(WIDTH);
  const [ghost, setGhost] = useState<readonly FlatPoint[]>([]);
  const isAbove = columns[1] === 1 && !hangs;
  const own = usePoints(path).map((p) => drawn(p, columns));
  const lines = linesOf(document).map(({ id, points }) => ({
    name: id,
    points: points.map((p) => drawn(p, isAbove ? [0, 1] : [0, 2])),
  }));
  const fresh = scaleOf([...lines, ...others, { name: '', points: own }], width);
  const scale = useRef(fresh);
  if (!isHeld()) scale.current = fresh; // while a point is dragged the drawing holds still
  const { z, height } = scale.current;
  const trace = (points: readonly FlatPoint[]) => traced(points, scale.current);
  return (
    <div class="side-drawing" ref={box}>
      <svg
        viewBox={`0 0 ${width} ${height.toFixed(0)}`}
        role="img"
        aria-label={`${label} ${SEEN[isAbove ? 1 : 0]}`}
      >
        <path class="water" d={`M0,${z(0)}H${width}`} />
        {lines.map((line) => (
          <path key={line.name} class="line" d={trace(line.points)} />
        ))}
        {others.map((one) => (
          <path key={one.name} class="other" d={trace(one.points)} />
        ))}
        {hangs && <path class="fill" d={trace(carriedUp(own, lines[0]?.points ?? []))} />}
        {ghost.length > 0 && <path class="ghost" d={trace(ghost)} />}
        <path class="own" d={trace(own)} />
      </svg>
      {!readOnly && (
        <Handles
          {...props}
          {...{ isAbove }}
          scale={scale.current}
          ghost={(is) => setGhost(is ? own : [])}
        />
      )}
    </div>
  );
}

const traced = (points: readonly FlatPoint[], { x, z }: SideScale): string => {
  const steps = points.map((p) => `${x(p[0]).toFixed(1)},${z(p[1]).toFixed(1)}`);
  return steps.length > 0 ? `M${steps.join('L')}` : '';
};

/** The points as the hand has them; where they were refused, as they were. */
function usePoints(path: string): readonly Numbers[] {
  const { document } = useBoat();
  const snapshot = useSnapshot();
  const isRefused = !isHeld() && reasonsAt(snapshot, path).length > 0;
  const draft = isRefused ? undefined : snapshot.drafts.get(path)?.value;
  return pointsAt(draft ?? at(document, path));
}

interface HandlesProps extends Props {
  readonly scale: SideScale;
  readonly isAbove: boolean;
  /** Shows what stays where it was while a point is held. */
  readonly ghost: (isHeld: boolean) => void;
}

/** The points that can be dragged, and those between them that become points. */
function Handles(props: HandlesProps) {
  const { label, path, columns = [0, 1], scale, ghost } = props;
  const { document } = useBoat();
  const { session } = useEditing();
  const own = pointsAt(at(document, path));
  const put = (points: readonly Numbers[], what: string) =>
    session.set(path, points, `${label}, ${what}`);
  const laid = {
    spot: ([x = 0, z = 0]: Numbers): FlatPoint => [scale.x(x), scale.z(z)],
    size: [scale.width, scale.height] as const,
    held: (from: unknown) => ghost(from !== undefined),
    look: 'point' as const,
  };
  const hasRoomAfter = (i: number) => {
    const [a, b] = [laid.spot(drawn(own[i], columns)), laid.spot(drawn(own[i + 1], columns))];
    return Math.hypot(a[0] - b[0], a[1] - b[1]) >= ROOM_PX;
  };
  return (
    <Grips label={`Points of ${label}, to drag`}>
      {between(own).map(
        (middle, i) =>
          hasRoomAfter(i) && (
            <Grip
              key={`between ${i}`}
              {...laid}
              one={newPoint(props, own.length, i, middle)}
              pressed={() => put(own.toSpliced(i + 1, 0, middle), 'a point added')}
            />
          ),
      )}
      {own.map((_, i) => (
        <Grip
          key={i}
          {...laid}
          one={pointOf(props, own.length, i, () => put(own.toSpliced(i, 1), 'a point removed'))}
        />
      ))}
    </Grips>
  );
}

/** A point between two others, which stands in the list once it is dragged. */
function newPoint(props: HandlesProps, before: number, i: number, middle: Numbers): Graspable {
  const { label, path, columns = [0, 1] } = props;
  return {
    path,
    axes: axesOf(props),
    name: `New point of ${label} after point ${i + 1}`,
    isNew: true,
    read: (whole) => {
      const points = pointsAt(whole);
      return drawn(points.length > before ? points[i + 1] : middle, columns);
    },
    write: (values, whole) =>
      pointsAt(whole).toSpliced(i + 1, 0, withDrawn(middle, values, columns)),
  };
}

/** A point of the list. */
function pointOf(props: HandlesProps, count: number, i: number, remove: () => void): Graspable {
  const { label, path, fewest, columns = [0, 1] } = props;
  return {
    path,
    axes: axesOf(props),
    name: `${label}, point ${i + 1}`,
    read: (whole) => {
      const point = pointsAt(whole)[i];
      return point && drawn(point, columns);
    },
    write: (values, whole) =>
      pointsAt(whole).map((p, k) => (k === i ? withDrawn(p, values, columns) : p)),
    ...(count > fewest ? { remove } : {}),
  };
}

type Numbers = readonly number[];

/** The points of a list, each a row of numbers. */
const pointsAt = (given: unknown): readonly Numbers[] =>
  Array.isArray(given)
    ? given.filter(
        (p): p is Numbers => Array.isArray(p) && p.length > 1 && p.every(Number.isFinite),
      )
    : [];

/** What is drawn of a point. */
const drawn = (point: Numbers | undefined, [a, b]: readonly [number, number]): FlatPoint => [
  point?.[a] ?? 0,
  point?.[b] ?? 0,
];

const withDrawn = (point: Numbers, values: Numbers, columns: readonly number[]): Numbers =>
  point.map((value, i) => values[columns.indexOf(i)] ?? value);

const axesOf = ({ scale: { per }, isAbove }: HandlesProps): readonly GraspAxis[] => [
  { field: lengthField('aft'), low: -Infinity, high: Infinity, way: [per, 0] },
  { field: lengthField(isAbove ? 'out' : 'up'), low: -Infinity, high: Infinity, way: [0, -per] },
];

const fine = (value: number) => Number((Math.round(value / FINE_M) * FINE_M).toFixed(3));

/** The middles between neighbouring points. */
const between = (points: readonly Numbers[]): readonly Numbers[] =>
  points.slice(1).map((next, i) => {
    const last = points[i] ?? next;
    return next.map((value, k) => fine(((last[k] ?? value) + value) / 2));
  });

interface SideScale {
  readonly x: (metres: number) => number;
  readonly z: (metres: number) => number;
  /** Pixels a metre. */
  readonly per: number;
  readonly width: number;
  readonly height: number;
}

function scaleOf(outlines: readonly DrawnOutline[], width: number): SideScale {
  const points = outlines.flatMap((one) => one.points);
  const xs = points.map(([x]) => x);
  const zs = [...points.map(([, z]) => z), 0];
  const left = Math.min(...xs) - MARGIN;
  const top = Math.max(...zs) + MARGIN;
  const per = width / (Math.max(...xs) + MARGIN - left);
  return {
    x: (m) => (m - left) * per,
    z: (m) => (top - m) * per,
    per,
    width,
    height: (top - Math.min(...zs) + MARGIN) * per,
  };
}

/** An outline with its open ends carried straight up to the hull's bottom. */
function carriedUp(own: readonly FlatPoint[], bottom: readonly FlatPoint[]): readonly FlatPoint[] {
  const end = (p: FlatPoint | undefined) =>
    p ? [[p[0], heightAlong(bottom, p[0]) ?? p[1]] as const] : [];
  return [...end(own[0]), ...own, ...end(own.at(-1))];
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
