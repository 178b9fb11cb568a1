/** Positions of a mesh: X, Y and Z of one point after those of another. */

type Take = (x: number, y: number, z: number) => void;

/** Hands over each of the points in turn. */
export function eachPoint(positions: ArrayLike<number>, take: Take): void {
  for (let i = 0; i + 2 < positions.length; i += 3) {
    take(positions[i] ?? 0, positions[i + 1] ?? 0, positions[i + 2] ?? 0);
  }
}
