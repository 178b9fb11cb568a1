/** Points in the boat's frame [m]: x aft of the forward perpendicular, y to starboard, z up. */
export type Point = readonly [number, number, number];
export type FlatPoint = readonly [number, number];

export const isPoint = (p: unknown): p is Point =>
  Array.isArray(p) && p.length === 3 && p.every((v) => typeof v === 'number');
