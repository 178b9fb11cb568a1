/** Geometry of the lever plot: from degrees and metres to pixels. */
import type { RightingLevers, WellsFullResult } from '../contract.ts';
import { type At, filledOnSide, onSide, SIDES, type Side } from '../shared/boat/levers.ts';

/** What the plot spans: one side from upright outwards, or the whole circle. */
export type Span = Side | 'circle';

export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly span: Span;
  /** Heels at the left and right ends [deg]. */
  readonly ends: readonly [number, number];
  /** Levers at the bottom and the top [m]. */
  readonly range: readonly [number, number];
  readonly step: number;
  readonly x: (heel: number) => number;
  readonly y: (lever: number) => number;
  /** The heel at a pixel, in whole degrees, within the ends. */
  readonly heel: (x: number) => number;
}

const LEFT = 44;
const RIGHT = 18;
const TOP = 14;
const BOTTOM = 34;
/** Height of a row of words under the plot. */
export const LANE = 15;
const STEPS = [0.05, 0.1, 0.2, 0.5, 1, 2, 5];
const MOST_LINES = 9;

/** The heels at both ends of a span [deg]. */
export const ENDS: Readonly<Record<Span, readonly [number, number]>> = {
  starboard: [0, 180],
  port: [0, -180],
  circle: [-180, 180],
};

interface Sheet {
  readonly span: Span;
  readonly width: number;
  /** Without the rows of words under it. */
  readonly height: number;
  readonly lanes?: number;
  /** Further levers that need room [m]. */
  readonly also?: readonly number[];
}

/** A plane in which every lever of these curves has room, with and without the house. */
export function planeOf(
  curves: readonly RightingLevers[],
  { span, width, height, lanes = 0, also = [] }: Sheet,
): Plane {
  const levers = curves.flatMap((c) => [
    ...c.gz_m.map((gz, i) => gz + (c.gz_plus_minus_m[i] ?? 0)),
    ...c.gz_m.map((gz, i) => gz - (c.gz_plus_minus_m[i] ?? 0)),
    ...c.gz_without_house_m,
    ...c.gz_well_dry_m,
  ]);
  const [low, high] = [Math.min(0, ...levers, ...also), Math.max(0.1, ...levers, ...also)];
  const step = STEPS.find((s) => (high - low) / s <= MOST_LINES - 2) ?? (high - low) / 4;
  const range = [Math.floor(low / step) * step, Math.ceil(high / step) * step] as const;
  const ends = ENDS[span];
  const perDegree = (width - LEFT - RIGHT) / (ends[1] - ends[0]);
  const perMetre = (height - TOP - BOTTOM) / (range[1] - range[0]);
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  return {
    width,
    height: height + lanes * LANE,
    span,
    ends,
    range,
    step,
    x: (heel) => LEFT + (heel - ends[0]) * perDegree,
    y: (lever) => TOP + (range[1] - lever) * perMetre,
    heel: (x) => Math.min(most, Math.max(least, Math.round(ends[0] + (x - LEFT) / perDegree))) + 0,
  };
}

/** To which side heels grow outwards: -1 where the plot begins upright and goes to port. */
export const outwards = ([from, to]: Plane['ends']): 1 | -1 => (to < from ? -1 : 1);

/** Heels and levers at which the plot is ruled. */
export function rulings({ ends, range, step }: Plane, narrow: boolean) {
  const every = narrow ? 60 : 30;
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const count = Math.round((range[1] - range[0]) / step);
  return {
    heels: Array.from({ length: (high - low) / every + 1 }, (_, i) => low + i * every),
    levers: Array.from({ length: count + 1 }, (_, i) => range[0] + i * step),
  };
}

/** The sides a plot shows. */
export const sidesOf = (span: Span): readonly Side[] => (span === 'circle' ? SIDES : [span]);

const pair = (plane: Plane, heel: number, lever: number) =>
  `${plane.x(heel).toFixed(1)},${plane.y(lever).toFixed(1)}`;

/** Path data of a curve, each side by itself; a step is drawn as a step. */
export function curvePath(plane: Plane, levers: RightingLevers, read: (at: At) => number): string {
  return lines(plane, (side) => onSide(levers, side).map((at) => pair(plane, at.heel, read(at))));
}

/** Path data of the curve of wells that stand as full as they can at each heel. */
export const filledPath = (plane: Plane, wells: WellsFullResult): string =>
  lines(plane, (side) => filledOnSide(wells, side).map((at) => pair(plane, at.heel, at.gz)));

const lines = (plane: Plane, points: (side: Side) => readonly string[]) =>
  sidesOf(plane.span)
    .map(points)
    .map((own) => (own.length > 0 ? `M${own.join('L')}` : ''))
    .join('');

/** Path data of the band of one standard deviation to both sides of a curve. */
export function bandPath(plane: Plane, levers: RightingLevers): string {
  return sidesOf(plane.span)
    .map((side) => {
      const points = onSide(levers, side);
      const over = points.map((at) => pair(plane, at.heel, at.gz + at.plusMinus));
      const under = points.map((at) => pair(plane, at.heel, at.gz - at.plusMinus)).reverse();
      return points.length > 0 ? `M${[...over, ...under].join('L')}Z` : '';
    })
    .join('');
}

/** Path data of the area under a curve between two angles on a side. */
export function areaPath(
  plane: Plane,
  levers: RightingLevers,
  side: Side,
  [from, to]: readonly [number, number],
): string {
  const points = onSide(levers, side);
  const inside = points.filter((at) => Math.abs(at.heel) > from && Math.abs(at.heel) < to);
  const sign = side === 'port' ? -1 : 1;
  const ends = [from, to].map((angle) => [sign * angle, leverOn(points, angle)] as const);
  const [first, last] = ends;
  if (!first || !last || Number.isNaN(last[1])) return '';
  const along = [first, ...inside.map((at) => [at.heel, at.gz] as const), last];
  const top = along.map(([heel, gz]) => pair(plane, heel, gz));
  return `M${[pair(plane, first[0], 0), ...top, pair(plane, last[0], 0)].join('L')}Z`;
}

function leverOn(points: readonly At[], angle: number): number {
  const after = points.findIndex((at) => Math.abs(at.heel) >= angle);
  const [a, b] = [points[after - 1], points[after]];
  if (!b) return NaN;
  if (!a || Math.abs(b.heel) === angle) return b.gz;
  const t = (angle - Math.abs(a.heel)) / (Math.abs(b.heel) - Math.abs(a.heel));
  return a.gz + (b.gz - a.gz) * t;
}

/** A thing marked on the heel axis. */
export interface Flag {
  readonly heel: number;
  readonly words: string;
  readonly kind: 'vanishing' | 'range' | 'bare' | 'flooding' | 'edge' | 'opening';
}

export interface PlacedFlag extends Flag {
  readonly row: number;
  readonly anchor: 'start' | 'end';
}

const GAP = 8;

/** Flags with the row each stands in, so that no words lie on others or beyond the edge. */
export function inRows(
  flags: readonly Flag[],
  { x, width }: Pick<Plane, 'x' | 'width'>,
  widthOf: (words: string) => number,
): readonly PlacedFlag[] {
  const rows: (readonly [number, number])[][] = [];
  return flags
    .toSorted((a, b) => x(a.heel) - x(b.heel))
    .map((flag) => {
      const [at, wide] = [x(flag.heel), widthOf(flag.words) + GAP];
      const anchor = at + wide > width ? ('end' as const) : ('start' as const);
      const [from, to] = anchor === 'start' ? [at, at + wide] : [at - wide, at + 1];
      const free = rows.findIndex((row) => row.every(([a, b]) => to <= a || b <= from));
      const row = free < 0 ? rows.length : free;
      rows[row] = [...(rows[row] ?? []), [from, to]];
      return { ...flag, row, anchor };
    });
}
