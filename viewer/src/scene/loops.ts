/** Segments joined end to end into closed loops: the waterline as an outline. */

type FlatPoint = readonly [number, number];

/** Ends nearer than this are one [m]. */
const TOGETHER = 2e-4;

/** Closed loops of loose segments, four numbers each (u, v, u, v); what does not close is left. */
export function loopsOf(segments: ArrayLike<number>): readonly (readonly FlatPoint[])[] {
  const near = new Map<string, { readonly at: FlatPoint; readonly others: Set<string> }>();
  const knot = (at: FlatPoint): string => {
    const name = at.map((v) => Math.round(v / TOGETHER)).join();
    if (!near.has(name)) near.set(name, { at, others: new Set() });
    return name;
  };
  for (let i = 0; i + 3 < segments.length; i += 4) {
    const a = knot([segments[i] ?? 0, segments[i + 1] ?? 0]);
    const b = knot([segments[i + 2] ?? 0, segments[i + 3] ?? 0]);
    if (a === b) continue;
    near.get(a)?.others.add(b);
    near.get(b)?.others.add(a);
  }
  const loops: FlatPoint[][] = [];
  const used = new Set<string>();
  for (const start of near.keys()) {
    if (used.has(start)) continue;
    const way = walk(near, start, used);
    if (way) loops.push(way.map((name) => near.get(name)?.at ?? [0, 0]));
  }
  return loops;
}

/** Names along a loop from a start, or nothing where it does not come back to it. */
function walk(
  near: ReadonlyMap<string, { readonly others: ReadonlySet<string> }>,
  start: string,
  used: Set<string>,
): readonly string[] | undefined {
  const way = [start];
  used.add(start);
  for (let here = start; ; ) {
    const next = [...(near.get(here)?.others ?? [])].find((one) => !used.has(one));
    if (next === undefined) break;
    used.add(next);
    way.push(next);
    here = next;
  }
  const closes = near.get(way.at(-1) ?? '')?.others.has(start);
  return closes && way.length > 2 ? way : undefined;
}

/** Twice the area inside a loop, signed by the way it turns. */
export const turnOf = (loop: readonly FlatPoint[]): number =>
  loop.reduce((sum, [u, v], i) => {
    const [p, q] = loop[(i + 1) % loop.length] ?? [u, v];
    return sum + u * q - p * v;
  }, 0);
