/** The outline of a body as it is seen: edges between a face towards the eye and one away. */
import { eachPoint } from './positions.ts';

interface Triangles {
  readonly positions: ArrayLike<number>;
  readonly corners: ArrayLike<number>;
}

interface Edges {
  /** Two corners an edge, (X, Y, Z) each. */
  readonly ends: Float32Array;
  /** The normals on both sides of an edge. */
  readonly normals: Float32Array;
}

type Triple = readonly [number, number, number];

/** Corners nearer than half a millimetre are one. */
const GRID = 2e3;

/** Every edge with its two faces; made once, since the eye alone moves. */
export function edgesBetween({ positions, corners }: Triangles): Edges {
  const points: Triple[] = [];
  eachPoint(positions, (x, y, z) => points.push([x, y, z]));
  const names = points.map((point) => point.map((v) => Math.round(v * GRID)).join());
  const waiting = new Map<string, Triple>();
  const ends: number[] = [];
  const normals: number[] = [];
  const meet = (a: number, b: number, normal: Triple) => {
    const [one, two] = [names[a] ?? '', names[b] ?? ''];
    const key = one < two ? `${one} ${two}` : `${two} ${one}`;
    const other = waiting.get(key);
    if (!other) {
      waiting.set(key, normal);
      return;
    }
    ends.push(...(points[a] ?? []), ...(points[b] ?? []));
    normals.push(...other, ...normal);
  };
  eachPoint(corners, (i, j, k) => {
    const normal = normalOf(points[i], points[j], points[k]);
    if (!normal) return;
    meet(i, j, normal);
    meet(j, k, normal);
    meet(k, i, normal);
  });
  return { ends: Float32Array.from(ends), normals: Float32Array.from(normals) };
}

/** Ends of the edges that make the outline, seen along a direction to the eye. */
export function outlineOf({ ends, normals }: Edges, direction: ArrayLike<number>): number[] {
  const [x = 0, y = 0, z = 0] = Array.from(direction);
  const faces = (at: number) =>
    (normals[at] ?? 0) * x + (normals[at + 1] ?? 0) * y + (normals[at + 2] ?? 0) * z > 0;
  const seen: number[] = [];
  for (let i = 0; i < normals.length; i += 6) {
    if (faces(i) === faces(i + 3)) continue;
    for (let k = i; k < i + 6; k += 1) seen.push(ends[k] ?? 0);
  }
  return seen;
}

function normalOf(
  a: Triple | undefined,
  b: Triple | undefined,
  c: Triple | undefined,
): Triple | undefined {
  if (!(a && b && c)) return undefined;
  const [u, v] = [minus(b, a), minus(c, a)];
  const n: Triple = [
    u[1] * v[2] - u[2] * v[1],
    u[2] * v[0] - u[0] * v[2],
    u[0] * v[1] - u[1] * v[0],
  ];
  const size = Math.hypot(...n);
  return size > 1e-12 ? [n[0] / size, n[1] / size, n[2] / size] : undefined;
}

const minus = (a: Triple, b: Triple): Triple => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
