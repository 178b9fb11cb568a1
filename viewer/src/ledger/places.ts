/** Where the weights of the ledger lie on the side view, and which one a pointer means. */
import type { LedgerLine } from '../shared/boat/ledger.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import type { Scale } from '../shared/boat/side-view.ts';

/** A dot's radius for a weight of nothing, and what the square root of a kilogram adds [px]. */
const LEAST = 2.2;
const PER_ROOT = 0.28;
const MOST = 9;

export interface WeightPlace {
  readonly row: LedgerLine;
  readonly at: FlatPoint;
  /** Where it goes, of one that moves. */
  readonly to: FlatPoint | undefined;
  readonly radius: number;
}

/** A rig stands above the drawing: what lies outside is shown at its edge. */
const within = (px: number, size: number) => Math.max(MOST, Math.min(size - MOST, px));

export const placesOf = (rows: readonly LedgerLine[], scale: Scale): readonly WeightPlace[] =>
  rows.map((row) => {
    const { at_m, to_m, mass_kg } = row.item;
    const flat = ([x, , z]: readonly [number, number, number]): FlatPoint => [
      within(scale.x(x), scale.width),
      within(scale.z(z), scale.height),
    ];
    return {
      row,
      at: flat(at_m),
      to: to_m ? flat(to_m) : undefined,
      radius: Math.min(MOST, LEAST + PER_ROOT * Math.sqrt(Math.abs(mass_kg))),
    };
  });

/** The weight nearest to a spot, either end of it; undefined where none is as near as asked. */
export function nearestPlace(
  places: readonly WeightPlace[],
  [x, y]: FlatPoint,
  within: number,
): WeightPlace | undefined {
  const far = ({ at, to }: WeightPlace) =>
    Math.min(...[at, to ?? at].map(([u, v]) => Math.hypot(u - x, v - y)));
  const nearest = places.toSorted((a, b) => far(a) - far(b))[0];
  return nearest && far(nearest) <= within ? nearest : undefined;
}
