/** Lines across a surface, which set it apart without colour. */
import { cut } from './cut.ts';
import { eachPoint } from './positions.ts';

/** From one line to the next, square to them [m]. */
const APART = 0.11;
const along = (x: number, y: number, z: number) => (x + y + z) / Math.sqrt(3);

/** Ends of lines on every face of a surface of triangles, slanted to all three axes. */
export function hatchingOf(
  positions: ArrayLike<number>,
  triangles: ArrayLike<number>,
  apart = APART,
): readonly number[] {
  let [least, most] = [Infinity, -Infinity];
  eachPoint(positions, (x, y, z) => {
    least = Math.min(least, along(x, y, z));
    most = Math.max(most, along(x, y, z));
  });
  const first = Math.ceil(least / apart);
  const lines = Math.max(0, Math.ceil(most / apart) - first) || 0;
  return Array.from({ length: lines }, (_, i) => (first + i) * apart).flatMap((far) =>
    cut(positions, triangles, (x, y, z) => along(x, y, z) - far),
  );
}
