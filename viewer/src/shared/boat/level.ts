/** How the boat lies in the water: at rest, or held at a heel. */
import type { ConditionResult } from '../../contract.ts';
import type { FlatPoint, Point } from './points.ts';

export interface Level {
  /** To starboard [deg]. */
  readonly heel: number;
  /** By the stern [deg]. */
  readonly trim: number;
  /** A point lies `up . point - offset` above the water [m]. */
  readonly offset: number;
}

type Vector = readonly [number, number, number];

/** Aft, to starboard and up along the level, in the boat's own axes. */
export interface Directions {
  readonly aft: Vector;
  readonly starboard: Vector;
  readonly up: Vector;
}

const RADIANS = Math.PI / 180;

export function directionsOf({ heel, trim }: Level): Directions {
  const [sinT, cosT] = [Math.sin(trim * RADIANS), Math.cos(trim * RADIANS)];
  const [sinH, cosH] = [Math.sin(heel * RADIANS), Math.cos(heel * RADIANS)];
  return {
    aft: [cosT, -sinT * sinH, sinT * cosH],
    starboard: [0, cosH, sinH],
    up: [-sinT, -cosT * sinH, cosT * cosH],
  };
}

const along = (a: Vector, b: Point) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Height of a point of the boat above the water, along the vertical [m]. */
export const heightAt = (level: Level, point: Point): number =>
  along(directionsOf(level).up, point) - level.offset;

/** Where a point of the boat is seen along the water from astern [m], starboard to the right. */
export const seenAcross = (level: Level, point: Point): number =>
  along(directionsOf(level).starboard, point);

/** The point of the boat at x [m] that is seen from astern across and above the water. */
export function pointSeenAt(level: Level, x: number, [across, above]: FlatPoint): Point {
  const { aft, starboard, up } = directionsOf(level);
  const height = above + level.offset;
  const far = (x - across * starboard[0] - height * up[0]) / aft[0];
  const along = (i: 1 | 2) => far * aft[i] + across * starboard[i] + height * up[i];
  return [x, along(1), along(2)];
}

/** How she lies at rest. */
export const levelAtRest = (
  rest: Pick<ConditionResult, 'heel_deg' | 'trim_deg' | 'water_offset_m'>,
): Level => ({
  heel: rest.heel_deg,
  trim: rest.trim_deg,
  offset: rest.water_offset_m ?? 0,
});
