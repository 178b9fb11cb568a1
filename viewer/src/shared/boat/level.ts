/** How the boat lies in the water: at rest, or held at a heel. */
import type { Point } from './points.ts';

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

/** How far the middle of the design waterline lies below the water [m]; negative is above it. */
export const sinkageAt = (level: Level, length: number): number =>
  -heightAt(level, [length / 2, 0, 0]) + 0;

/** Trim between the perpendiculars [mm], positive by the stern. */
export const trimAt = ({ trim }: Level, length: number): number =>
  Math.tan(trim * RADIANS) * length * 1000;

interface Rest {
  readonly sinkage_mm: number;
  readonly trim_mm: number;
  readonly heel_deg: number;
}

/** How she lies at rest, from her sinkage, trim and list. */
export function levelAtRest(rest: Rest, length: number): Level {
  const trim = Math.atan(rest.trim_mm / 1000 / length) / RADIANS;
  const level = { heel: rest.heel_deg, trim, offset: 0 };
  const { up } = directionsOf(level);
  return { ...level, offset: up[0] * (length / 2) + up[2] * (rest.sinkage_mm / 1000) };
}
