/** Geometry of the lever plot: from degrees and metres to pixels. */

import type { HeldResult } from '../../contract.ts';
import { type HeldColumn, SIDES, type Side } from '../../shared/boat/levers.ts';
import { timesOf } from '../../shared/words/units.ts';

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
}

/** A boat held at every degree to either side. */
export type Curves = Readonly<Partial<Record<string, HeldResult>>>;

const LEVERS: readonly HeldColumn[] = [
  'gz_m',
  'gz_without_house_m',
  'gz_well_dry_m',
  'gz_wells_full_m',
];
const numbers = (held: HeldResult, column: HeldColumn) =>
  (held[column] ?? []).flatMap((value) => value ?? []);

/** Levers of one side that need room: all of them, and the band about her own. */
const spanned = (held: HeldResult): readonly number[] => [
  ...LEVERS.flatMap((column) => numbers(held, column)),
  ...[1, -1].flatMap((way) => bandOf(held, way)),
];

const bandOf = (held: HeldResult, way: number): readonly number[] =>
  held.gz_m.map((gz, i) => gz + way * (held.gz_plus_minus_m[i] ?? 0));

/** A plane in which every lever of these boats has room, with and without the house. */
export function planeOf(
  boats: readonly Curves[],
  { span, width, height, lanes = 0 }: Sheet,
): Plane {
  const levers = boats.flatMap((boat) =>
    SIDES.flatMap((side) => (boat[side] ? spanned(boat[side]) : [])),
  );
  const [low, high] = [Math.min(0, ...levers), Math.max(0.1, ...levers)];
  const own = STEPS.map((s) => s / timesOf('m'));
  const step = own.find((s) => (high - low) / s <= MOST_LINES - 2) ?? (high - low) / 4;
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

/** Path data of a column of levers, each side by itself; a step is drawn as a step. */
export function curvePath(plane: Plane, boat: Curves, column: HeldColumn): string {
  return lines(plane, (side) => {
    const held = boat[side];
    return (held?.[column] ?? []).flatMap((lever, i) =>
      lever === null ? [] : [pair(plane, held?.heel_deg[i] ?? 0, lever)],
    );
  });
}

const lines = (plane: Plane, points: (side: Side) => readonly string[]) =>
  sidesOf(plane.span)
    .map(points)
    .map((own) => (own.length > 0 ? `M${own.join('L')}` : ''))
    .join('');

/** Path data of the band of one standard deviation to both sides of a curve. */
export function bandPath(plane: Plane, boat: Curves): string {
  return sidesOf(plane.span)
    .map((side) => {
      const held = boat[side];
      if (!held) return '';
      const edge = (way: number) =>
        bandOf(held, way).map((lever, i) => pair(plane, held.heel_deg[i] ?? 0, lever));
      return `M${[...edge(1), ...edge(-1).reverse()].join('L')}Z`;
    })
    .join('');
}

/** Path data of the area under a curve between two whole degrees on a side. */
export function areaPath(
  plane: Plane,
  boat: Curves,
  side: Side,
  [from, to]: readonly [number, number],
): string {
  const { heel_deg: heels = [], gz_m: levers = [] } = boat[side] ?? {};
  const inside = heels.flatMap((heel, i) =>
    Math.abs(heel) >= from && Math.abs(heel) <= to ? [[heel, levers[i] ?? 0] as const] : [],
  );
  const [first, last] = [inside[0], inside.at(-1)];
  if (!first || !last || Math.abs(last[0]) < to) return '';
  const top = inside.map(([heel, gz]) => pair(plane, heel, gz));
  return `M${[pair(plane, first[0], 0), ...top, pair(plane, last[0], 0)].join('L')}Z`;
}

/** A thing marked on the heel axis. */
export interface Flag {
  readonly heel: number;
  readonly words: string;
  readonly kind: 'vanishing' | 'range' | 'bare' | 'flooding' | 'edge' | 'opening' | 'top';
}

export interface PlacedFlag extends Flag {
  readonly row: number;
  readonly anchor: 'start' | 'end';
  /** Where its words begin or end [px]; not at its heel where they would run over an edge. */
  readonly at: number;
}

const GAP = 8;

/** Words begin at their heel; or end there, or are moved in, where they would run over the edge. */
function besideHeel(at: number, wide: number, width: number): Pick<PlacedFlag, 'anchor' | 'at'> {
  if (at + wide > width && at >= wide) return { anchor: 'end', at };
  return { anchor: 'start', at: Math.max(0, Math.min(at, width - wide)) };
}

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
      const wide = widthOf(flag.words) + GAP;
      const { anchor, at } = besideHeel(x(flag.heel), wide, width);
      const [from, to] = anchor === 'start' ? [at, at + wide] : [at - wide, at + 1];
      const free = rows.findIndex((row) => row.every(([a, b]) => to <= a || b <= from));
      const row = free < 0 ? rows.length : free;
      rows[row] = [...(rows[row] ?? []), [from, to]];
      return { ...flag, row, anchor, at };
    });
}

/** Path data of what rights her (1) or capsizes her (-1): between her curve and nought. */
export function signedPath(plane: Plane, boat: Curves, sign: 1 | -1): string {
  return sidesOf(plane.span)
    .flatMap((side) => {
      const { heel_deg: heels = [], gz_m: levers = [] } = boat[side] ?? {};
      const points = heels.map((heel, i) => [heel, levers[i] ?? 0] as const);
      return points.slice(1).reduce<(readonly [number, number])[][]>((runs, to, i) => {
        const part = partOf(points[i] ?? to, to, sign);
        const [last, begins] = [runs.at(-1), part[0]];
        if (!begins) return runs;
        if (last?.at(-1)?.[0] === begins[0]) last.push(...part);
        else runs.push([...part]);
        return runs;
      }, []);
    })
    .map((run) => {
      const [from, to] = [run[0]?.[0] ?? 0, run.at(-1)?.[0] ?? 0];
      const top = run.map(([heel, gz]) => pair(plane, heel, gz));
      return `M${[pair(plane, from, 0), ...top, pair(plane, to, 0)].join('L')}Z`;
    })
    .join('');
}

/** The stretch from one lever to the next that has a sign; empty where none has. */
function partOf(
  [from, a]: readonly [number, number],
  [to, b]: readonly [number, number],
  sign: 1 | -1,
): readonly (readonly [number, number])[] {
  const has = [a * sign > 0, b * sign > 0] as const;
  if (!has[0] && !has[1]) return [];
  const nought = [from + ((to - from) * a) / (a - b || 1), 0] as const;
  return [has[0] ? [from, a] : nought, has[1] ? [to, b] : nought];
}

/** Of all the area on a side: a smaller one has no room for words. */
const LEAST_SHARE = 0.02;

/** Where the area of a sign on a side has its middle; undefined where there is hardly any. */
export function middleOf(boat: Curves, side: Side, sign: 1 | -1) {
  const { heel_deg: heels = [], gz_m: levers = [] } = boat[side] ?? {};
  const own = levers.map((gz) => Math.max(0, gz * sign));
  const sum = own.reduce((a, b) => a + b, 0);
  const whole = levers.reduce((a, gz) => a + Math.abs(gz), 0);
  if (sum <= LEAST_SHARE * whole) return undefined;
  const heel = own.reduce((a, gz, i) => a + gz * (heels[i] ?? 0), 0) / sum;
  return { heel, lever: (sign * own.reduce((a, gz) => a + gz * gz, 0)) / sum };
}

/** The flag that lies nearest to a pixel; undefined where none is as near as asked. */
export const nearestFlag = (
  flags: readonly Flag[],
  { x }: Pick<Plane, 'x'>,
  px: number,
  within: number,
): Flag | undefined =>
  flags
    .filter((flag) => Math.abs(x(flag.heel) - px) <= within)
    .toSorted((a, b) => Math.abs(x(a.heel) - px) - Math.abs(x(b.heel) - px))[0];

/** Curves that are drawn where they are asked for. */
export interface Also {
  readonly bareBefore: boolean;
  readonly dry: boolean;
}

/** Areas under the curve that are shaded, between two heels. */
export const AREAS = [
  [0, 30],
  [30, 40],
] as const;
