/** Where a level plane cuts a surface of triangles: the waterline on the hull. */
import { eachPoint } from './positions.ts';

/** Heights above the plane of points (X, Y, Z) in the scene's axes. */
export type Height = (x: number, y: number, z: number) => number;

/** A corner of a triangle and its height above the plane. */
interface Corner {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly above: number;
}

/** Ends of the segments in which triangles meet the plane, (X, Y, Z) after (X, Y, Z). */
export function cut(
  positions: ArrayLike<number>,
  triangles: ArrayLike<number>,
  height: Height,
): readonly number[] {
  const corners: Corner[] = [];
  eachPoint(positions, (x, y, z) => corners.push({ x, y, z, above: height(x, y, z) }));
  const ends: number[] = [];
  eachPoint(triangles, (i, j, k) => {
    const [a, b, c] = [corners[i], corners[j], corners[k]];
    if (!(a && b && c)) return;
    meet(ends, a, b);
    meet(ends, b, c);
    meet(ends, c, a);
  });
  return ends;
}

/** Adds where an edge meets the plane, if it does. */
function meet(ends: number[], from: Corner, to: Corner): void {
  if (from.above >= 0 === to.above >= 0) return;
  const share = from.above / (from.above - to.above);
  const between = (a: number, b: number) => a + (b - a) * share;
  ends.push(between(from.x, to.x), between(from.y, to.y), between(from.z, to.z));
}
