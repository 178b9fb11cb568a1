/** Where a level plane cuts a surface of triangles: the waterline on the hull. */

/** Heights above the plane of points (X, Y, Z) in the scene's axes. */
export type Height = (x: number, y: number, z: number) => number;

/** Ends of the segments in which triangles meet the plane, (X, Y, Z) after (X, Y, Z). */
export function cut(
  positions: ArrayLike<number>,
  corners: ArrayLike<number>,
  height: Height,
): readonly number[] {
  const ends: number[] = [];
  const above = new Float64Array(positions.length / 3);
  for (let i = 0; i < above.length; i += 1) {
    above[i] = height(positions[3 * i]!, positions[3 * i + 1]!, positions[3 * i + 2]!);
  }
  for (let t = 0; t + 2 < corners.length; t += 3) {
    const [a, b, c] = [corners[t]!, corners[t + 1]!, corners[t + 2]!];
    const [overA, overB, overC] = [above[a]! >= 0, above[b]! >= 0, above[c]! >= 0];
    if (overA === overB && overB === overC) continue;
    if (overA !== overB) push(ends, positions, above, a, b);
    if (overB !== overC) push(ends, positions, above, b, c);
    if (overC !== overA) push(ends, positions, above, c, a);
  }
  return ends;
}

function push(
  ends: number[],
  positions: ArrayLike<number>,
  above: Float64Array,
  from: number,
  to: number,
): void {
  const t = above[from]! / (above[from]! - above[to]!);
  for (let axis = 0; axis < 3; axis += 1) {
    const start = positions[3 * from + axis]!;
    ends.push(start + (positions[3 * to + axis]! - start) * t);
  }
}
