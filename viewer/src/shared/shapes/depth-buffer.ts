/** What lies in front, pixel by pixel: which faces and which runs of a line are seen. */

/** A point of the picture [px], and how deep it lies. */
export type Deep = readonly [number, number, number];

/** So much nearer than a face a line is not hidden by it, in the depth of the picture. */
const LENIENT = 1.6e-4;

export class DepthBuffer {
  private readonly width: number;
  private readonly height: number;
  private readonly depths: Float32Array;
  private readonly owners: Int32Array;

  constructor(width: number, height: number) {
    [this.width, this.height] = [width, height];
    this.depths = new Float32Array(width * height).fill(Infinity);
    this.owners = new Int32Array(width * height).fill(-1);
  }

  /** Draws a convex face by its number. */
  draw(face: readonly Deep[], owner: number): void {
    this.each(face, (at, depth) => {
      if (depth >= (this.depths[at] ?? Infinity)) return;
      this.depths[at] = depth;
      this.owners[at] = owner;
    });
  }

  /** Faces of which at least a pixel is seen. */
  seen(): Set<number> {
    const seen = new Set(this.owners);
    seen.delete(-1);
    return seen;
  }

  /** Which of the seen faces lie over a face somewhere. */
  over(face: readonly Deep[], owner: number): Map<number, number> {
    const over = new Map<number, number>();
    this.each(face, (at) => {
      const other = this.owners[at] ?? -1;
      if (other !== owner && other >= 0) over.set(other, (over.get(other) ?? 0) + 1);
    });
    return over;
  }

  /** Whether a point of a line is seen: no nearer face there, or around it within some pixels. */
  isSeen([x, y, depth]: Deep, around = 1): boolean {
    const [column, row] = [Math.round(x), Math.round(y)];
    let farthest = -Infinity;
    for (let j = row - around; j <= row + around; j += 1)
      for (let i = column - around; i <= column + around; i += 1)
        farthest = Math.max(farthest, this.at(i, j));
    return depth <= farthest + LENIENT;
  }

  private at(column: number, row: number): number {
    const inside = column >= 0 && row >= 0 && column < this.width && row < this.height;
    return inside ? (this.depths[row * this.width + column] ?? Infinity) : Infinity;
  }

  /** Every pixel of a convex face, row by row. */
  private each(face: readonly Deep[], take: (at: number, depth: number) => void): void {
    const slope = slopeOf(face);
    const rows = face.map(([, y]) => y);
    const first = Math.max(0, Math.ceil(Math.min(...rows)));
    const last = Math.min(this.height - 1, Math.floor(Math.max(...rows)));
    for (let row = first; row <= last; row += 1) {
      const [from, to] = acrossAt(face, row);
      const end = Math.min(this.width - 1, Math.floor(to));
      for (let column = Math.max(0, Math.ceil(from)); column <= end; column += 1)
        take(row * this.width + column, slope(column, row));
    }
  }
}

/** From where to where a convex face lies in a row. */
function acrossAt(face: readonly Deep[], row: number): readonly [number, number] {
  let [from, to] = [Infinity, -Infinity];
  for (const [i, [x, y]] of face.entries()) {
    const [p, q] = face[(i + 1) % face.length] ?? [x, y];
    if (y === q || row < Math.min(y, q) || row > Math.max(y, q)) continue;
    const across = x + ((row - y) / (q - y)) * (p - x);
    from = Math.min(from, across);
    to = Math.max(to, across);
  }
  return [from, to];
}

/** Depth of a flat face over the picture: by its widest corner, so that slivers do no harm. */
function slopeOf(face: readonly Deep[]): (x: number, y: number) => number {
  const [a] = face;
  if (!a) return () => Infinity;
  let best = { area: 0, u: 0, v: 0 };
  for (let i = 1; i + 1 < face.length; i += 1) {
    const [b, c] = [face[i] ?? a, face[i + 1] ?? a];
    const [bx, by, bz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    const [cx, cy, cz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
    const area = bx * cy - by * cx;
    if (Math.abs(area) <= Math.abs(best.area)) continue;
    best = { area, u: (bz * cy - by * cz) / area, v: (bx * cz - bz * cx) / area };
  }
  return (x, y) => a[2] + best.u * (x - a[0]) + best.v * (y - a[1]);
}

interface Layered {
  /** At how many pixels which others lie over it. */
  readonly over: ReadonlyMap<number, number>;
  readonly depth: number;
}

/** Faces from the back to the front: what lies over another comes after it, where that can be. */
export function backToFront(faces: ReadonlyMap<number, Layered>): readonly number[] {
  const under = whatIsUnder(faces);
  const depth = (face: number) => faces.get(face)?.depth ?? 0;
  const order = new Set<number>();
  const begun = new Set<number>();
  /** What a face must wait for, and then the face itself. */
  const stack = [...faces.keys()].toSorted((a, b) => depth(a) - depth(b));
  for (let face = stack.at(-1); face !== undefined; face = stack.at(-1)) {
    const first = begun.has(face) ? [] : (under.get(face) ?? []).filter((one) => !begun.has(one));
    begun.add(face);
    stack.push(...first);
    if (first.length > 0) continue;
    order.add(face);
    stack.pop();
  }
  return [...order];
}

/** Which faces come before a face: those it lies over at more pixels than they over it. */
function whatIsUnder(faces: ReadonlyMap<number, Layered>): ReadonlyMap<number, readonly number[]> {
  const under = new Map<number, number[]>([...faces.keys()].map((face) => [face, []]));
  const pixels = (face: number, other: number) => faces.get(face)?.over.get(other) ?? 0;
  for (const [face, { over }] of faces) {
    for (const other of over.keys())
      if (pixels(face, other) > pixels(other, face)) under.get(other)?.push(face);
  }
  return under;
}
