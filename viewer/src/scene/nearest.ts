/** Which of several surfaces a point lies on. */
import { Triangle, Vector3 } from 'three';
import type { Point } from '../shared/boat/points.ts';

/** Distance from a point to the nearest of some triangles, nine numbers each. */
export function distanceTo(triangles: readonly number[], point: Point): number {
  const [at, on, one] = [new Vector3(...point), new Vector3(), new Triangle()];
  let least = Infinity;
  for (let i = 0; i < triangles.length; i += 9) {
    one.a.fromArray(triangles, i);
    one.b.fromArray(triangles, i + 3);
    one.c.fromArray(triangles, i + 6);
    least = Math.min(least, at.distanceTo(one.closestPointToPoint(at, on)));
  }
  return least;
}
