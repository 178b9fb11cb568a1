/** The boat held at a whole degree of heel, as the server has worked it out. */
import type { ConditionResult, HeldResult, OpeningResult } from '../../contract.ts';
import { quantity } from '../words/numbers.ts';
import type { Level } from './level.ts';

export type Side = 'port' | 'starboard';
export const SIDES: readonly Side[] = ['port', 'starboard'];

/** Columns of numbers of the boat held at each heel. */
export type HeldColumn = {
  [K in keyof HeldResult]: HeldResult[K] extends readonly (number | null)[] | null ? K : never;
}[keyof HeldResult];

/** How she lies and rights at one heel. */
export interface Held extends Level {
  /** A number of hers there; null where there is none. */
  readonly of: (column: HeldColumn) => number | null;
  /** Where that number stands in the answer. */
  readonly path: (column: HeldColumn) => string;
  readonly gz: number;
  /** Openings under water, the deepest first. */
  readonly under: readonly OpeningResult[];
  /** The lowest opening above it, with its height [m]. */
  readonly next: { readonly opening: OpeningResult; readonly height: number } | undefined;
}

export const sideOf = (heel: number): Side => (heel < 0 ? 'port' : 'starboard');
const OUTWARDS: Readonly<Record<Side, number>> = { port: -1, starboard: 1 };

/** A boat held at a heel; undefined beyond the heel at which she tips end over end. */
export function heldAt(boat: ConditionResult, heel: number, side = sideOf(heel)): Held | undefined {
  const held = boat.held?.[side];
  const i = held?.heel_deg.indexOf(heel) ?? -1;
  if (!held) return undefined;
  if (i < 0) return between(boat, heel, side);
  const of = (column: HeldColumn) => held[column]?.[i] ?? null;
  return {
    heel,
    trim: of('trim_deg') ?? 0,
    offset: of('water_offset_m') ?? 0,
    of,
    path: (column) => `conditions.${boat.id}.${boat.stage}.held.${side}.${column}.${i}`,
    gz: of('gz_m') ?? 0,
    under: (held.openings_under[i] ?? []).flatMap((k) => boat.openings[k] ?? []),
    next: nextIn(boat, of('next_opening'), of('next_opening_m')),
  };
}

/** While she is heeled from one whole degree to the next: drawn between them, named by the nearer. */
function between(boat: ConditionResult, heel: number, side: Side): Held | undefined {
  if (Number.isInteger(heel)) return undefined;
  const [a, b] = [Math.floor(heel), Math.ceil(heel)].map((one) => heldAt(boat, one, side));
  if (!a || !b) return undefined;
  const part = (heel - a.heel) / (b.heel - a.heel);
  const mixed = (from: number, to: number) => from + part * (to - from);
  const nearer = part < 0.5 ? a : b;
  return {
    ...nearer,
    heel,
    trim: mixed(a.trim, b.trim),
    offset: mixed(a.offset, b.offset),
    of: (column) => {
      const [from, to] = [a.of(column), b.of(column)];
      return from === null || to === null ? null : mixed(from, to);
    },
    gz: mixed(a.gz, b.gz),
  };
}

/** Where weight and buoyancy act, across and above the water [m]; undefined where not known. */
export function centresOf({ of }: Pick<Held, 'of'>) {
  const at = (across: HeldColumn, above: HeldColumn) => {
    const [u, h] = [of(across), of(above)];
    return u === null || h === null ? undefined : ([u, h] as const);
  };
  const gravity = at('gravity_across_m', 'gravity_above_sea_m');
  const buoyancy = at('buoyancy_across_m', 'buoyancy_above_sea_m');
  return gravity && buoyancy ? { gravity, buoyancy } : undefined;
}

function nextIn(boat: ConditionResult, k: number | null, height: number | null): Held['next'] {
  const opening = k === null ? undefined : boat.openings[k];
  return opening && height !== null ? { opening, height } : undefined;
}

/** Every heel at which she is held, on both sides. */
export const levelsOf = (boat: ConditionResult): readonly Level[] =>
  SIDES.flatMap((side) => {
    const held = boat.held?.[side];
    return (held?.heel_deg ?? []).map((heel, i) => ({
      heel,
      trim: held?.trim_deg[i] ?? 0,
      offset: held?.water_offset_m[i] ?? 0,
    }));
  });

export const FILLED = 'wells spilling and filling at each heel';

/** Her lever and the water in her where her wells spill and fill; empty where none is full. */
export function filledWords({ of }: Held): string {
  const [gz, water] = [of('gz_wells_full_m'), of('water_in_wells_kg')];
  if (gz === null || water === null) return '';
  return `${quantity(gz, 'm', 0.001)} with ${quantity(water, 'kg', 1)} in them`;
}

/** The vanishing angle to one side, without its side. */
export const vanishing = (boat: ConditionResult, side: Side): number | null =>
  side === 'port' ? boat.vanishing_angle_port_deg : boat.vanishing_angle_starboard_deg;

/** Signed heel of an angle on a side. */
export const toSide = (angle: number, side: Side): number => OUTWARDS[side] * angle + 0;
