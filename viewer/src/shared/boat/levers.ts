/** Righting levers as they are read: by side, at any heel, with the water where it lies. */
import type { ConditionResult, RightingLevers, WellsFullResult } from '../../contract.ts';
import { number } from '../words/numbers.ts';
import { heightAt, type Level } from './level.ts';
import type { Point } from './points.ts';

export type Side = 'port' | 'starboard';
export const SIDES: readonly Side[] = ['port', 'starboard'];

/** One heel of a curve, or one read between two. */
export interface At extends Level {
  readonly gz: number;
  readonly plusMinus: number;
  /** The lever with the house not counted. */
  readonly bare: number;
  /** The lever with the cockpit dry until its coaming goes under. */
  readonly dry: number;
}

export const sideOf = (heel: number): Side => (heel < 0 ? 'port' : 'starboard');
const outwards: Readonly<Record<Side, number>> = { port: -1, starboard: 1 };

/** The heels of one side from upright outwards; a heel that stands twice is a step. */
export function onSide(levers: RightingLevers, side: Side): readonly At[] {
  const all = levers.heel_deg.map((heel, i) => rowOf(levers, heel, i));
  if (side === 'starboard') return all.filter((at) => at.heel >= 0);
  // a lever rights to either side: at no heel what rights to starboard capsizes to port
  return all
    .filter((at) => at.heel <= 0)
    .map((at) => (at.heel === 0 ? { ...at, gz: -at.gz, bare: -at.bare, dry: -at.dry } : at))
    .reverse();
}

function rowOf(levers: RightingLevers, heel: number, i: number): At {
  return {
    heel,
    gz: levers.gz_m[i] ?? NaN,
    plusMinus: levers.gz_plus_minus_m[i] ?? NaN,
    bare: levers.gz_without_house_m[i] ?? NaN,
    dry: levers.gz_well_dry_m[i] ?? NaN,
    trim: levers.trim_deg[i] ?? NaN,
    offset: levers.water_offset_m[i] ?? NaN,
  };
}

/** What a curve says at a heel, straight between its own; undefined beyond its end. */
export const valuesAt = (levers: RightingLevers, heel: number): At | undefined =>
  readAt(onSide(levers, sideOf(heel)), heel, (read) => ({
    gz: read((at) => at.gz),
    plusMinus: read((at) => at.plusMinus),
    bare: read((at) => at.bare),
    dry: read((at) => at.dry),
    trim: read((at) => at.trim),
    offset: read((at) => at.offset),
  }));

/** One heel of the curve of wells that stand as full as they can there. */
export interface Filled {
  readonly heel: number;
  readonly gz: number;
  /** In all her wells [kg]. */
  readonly water: number;
}

export const FILLED = 'wells spilling and filling at each heel';
export const filledWords = ({ gz, water }: Filled): string =>
  `${number(gz, 0.001)} m with ${number(water, 1)} kg in them`;

/** The heels of one side from upright outwards, her wells as full as they can be. */
export function filledOnSide(wells: WellsFullResult, side: Side): readonly Filled[] {
  const all = wells.heel_deg.map((heel, i) => ({
    heel,
    gz: wells.gz_m[i] ?? NaN,
    water: wells.water_kg[i] ?? NaN,
  }));
  if (side === 'starboard') return all.filter((at) => at.heel >= 0);
  return all
    .filter((at) => at.heel <= 0)
    .map((at) => (at.heel === 0 ? { ...at, gz: -at.gz } : at))
    .reverse();
}

/** The same at a heel. */
export const filledAt = (wells: WellsFullResult, heel: number): Filled | undefined =>
  readAt(filledOnSide(wells, sideOf(heel)), heel, (read) => ({
    gz: read((at) => at.gz),
    water: read((at) => at.water),
  }));

/** Numbers of the heels between which a value is read: one where it is worked out there. */
export function readBetween(heels: readonly number[], heel: number): readonly number[] {
  const own = heels.findIndex((one) => Math.abs(one - heel) < 1e-9);
  if (own >= 0) return [own];
  const after = heels.findIndex((one) => one > heel);
  return after > 0 ? [after - 1, after] : [];
}

/** One row, or two mixed by `mix` where the heel lies between theirs. */
function readAt<T extends { readonly heel: number }>(
  side: readonly T[],
  heel: number,
  mix: (read: (of: (row: T) => number) => number) => Omit<T, 'heel'>,
): (Omit<T, 'heel'> & { readonly heel: number }) | undefined {
  const after = side.findIndex((at) => Math.abs(at.heel) >= Math.abs(heel) - 1e-9);
  const b = side[after];
  if (!b) return undefined;
  const a = side[after - 1];
  if (!a || Math.abs(b.heel - heel) < 1e-9) return b;
  const t = (heel - a.heel) / (b.heel - a.heel);
  return { ...mix((of) => of(a) + (of(b) - of(a)) * t), heel };
}

/** Height of the lowest of some points above the water [m]. */
export const lowest = (at: Level, points: readonly Point[]): number =>
  Math.min(...points.map((point) => heightAt(at, point)));

/** The heel, without its side, at which the first of some points goes under on a side. */
export function goesUnder(
  levers: RightingLevers,
  points: readonly Point[],
  side: Side,
): number | undefined {
  let before: readonly [number, number] | undefined;
  for (const at of onSide(levers, side)) {
    const here = [Math.abs(at.heel), lowest(at, points)] as const;
    if (here[1] < 0) {
      if (!before) return here[0];
      return before[0] + ((here[0] - before[0]) * before[1]) / (before[1] - here[1]);
    }
    before = here;
  }
  return undefined;
}

/** The vanishing angle to one side, without its side. */
export const vanishing = (boat: ConditionResult, side: Side): number | null =>
  side === 'port' ? boat.vanishing_angle_port_deg : boat.vanishing_angle_starboard_deg;

/** Signed heel of an angle on a side. */
export const toSide = (angle: number, side: Side): number => outwards[side] * angle;

const COLUMNS = [
  'condition',
  'boat',
  'heel_deg',
  'gz_m',
  'gz_plus_minus_m',
  'gz_without_house_m',
  'gz_well_dry_m',
  'trim_deg',
  'water_offset_m',
  'gz_wells_full_m',
  'water_in_wells_kg',
];

interface Row {
  readonly boat: string;
  readonly levers: RightingLevers;
  readonly wells: WellsFullResult | null;
}

/** Levers as a CSV file, with what they were worked out at. */
export function leversCsv(condition: string, rows: readonly Row[]): string {
  const lines = rows.flatMap(({ boat, levers, wells }) =>
    levers.heel_deg.map((heel, i) => {
      const { gz, plusMinus, bare, dry, trim, offset } = rowOf(levers, heel, i);
      const own = [condition, boat, heel, gz, plusMinus, bare, dry, trim, offset];
      // not read between heels: a file holds what was worked out
      const k = wells?.heel_deg.indexOf(heel) ?? -1;
      return [...own, wells?.gz_m[k] ?? '', wells?.water_kg[k] ?? ''].join(',');
    }),
  );
  return [COLUMNS.join(','), ...lines, ''].join('\n');
}
