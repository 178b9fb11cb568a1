/** Where the boat stands in the scene: held still, or moved so that the water is level. */
import { Matrix4 } from 'three';
import { directionsOf, type Level } from '../shared/boat/level.ts';
import { eachPoint } from '../shared/shapes/positions.ts';

/**
 * From the boat's axes in the scene (X aft, Y up, Z to port) to the level, where the water is
 * Y = 0. The middle of her waterline keeps its place along the level, and across it.
 */
export function toTheLevel(level: Level, length: number): Matrix4 {
  const { aft, starboard, up } = directionsOf(level);
  const [x, y, z] = starboard;
  const shift = (length / 2) * (1 - aft[0]);
  return new Matrix4().set(
    ...([aft[0], aft[2], -aft[1], shift] as const),
    ...([up[0], up[2], -up[1], -level.offset] as const),
    ...([-x, -z, y, 0] as const),
    ...([0, 0, 0, 1] as const),
  );
}

/** Held still, the right way up; or turned about her length where she floats upside down. */
export const heldStill = (isUpsideDown: boolean): Matrix4 =>
  isUpsideDown ? new Matrix4().makeRotationX(Math.PI) : new Matrix4();

/** Positions (x, y, z) with the keel up. */
export const turnedOver = (positions: ArrayLike<number>): readonly number[] =>
  Array.from(positions, (v, i) => (i % 3 === 0 ? v : -v));

const POINTS = 24;

/**
 * Rims of the cylinder along the design waterline in which everything turns as she heels,
 * wider by what she rises or sinks meanwhile [m].
 */
export function turningReach(
  surfaces: readonly ArrayLike<number>[],
  rise: number,
): readonly number[] {
  let [x0, x1, radius] = [Infinity, -Infinity, 0];
  for (const positions of surfaces) {
    eachPoint(positions, (x, y, z) => {
      x0 = Math.min(x0, x);
      x1 = Math.max(x1, x);
      radius = Math.max(radius, Math.hypot(y, z));
    });
  }
  if (x0 > x1) return [];
  radius += rise;
  const turns = Array.from({ length: POINTS }, (_, i) => (2 * Math.PI * i) / POINTS);
  return [x0, x1].flatMap((x) =>
    turns.flatMap((t) => [x, radius * Math.cos(t), radius * Math.sin(t)]),
  );
}
