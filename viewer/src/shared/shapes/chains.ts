/** Segments joined end to end: the waterline as an outline, edges as runs. */

type PlanePoint = readonly [number, number];

interface Chain {
  readonly points: readonly PlanePoint[];
  readonly isClosed: boolean;
}

interface Node {
  readonly at: PlanePoint;
  readonly others: Set<string>;
}

/** Runs of loose segments, four numbers each (u, v, u, v); ends nearer than `together` are one. */
export function chainsOf(segments: ArrayLike<number>, together: number): readonly Chain[] {
  const nodes = nodesOf(segments, together);
  const left = new Map([...nodes].map(([name, { others }]) => [name, new Set(others)]));
  // from loose ends and forks first, so that a run is not begun in its middle
  const ends = [...nodes.keys()].filter((name) => nodes.get(name)?.others.size !== 2);
  const chains: Chain[] = [];
  for (const start of [...ends, ...nodes.keys()]) {
    while ((left.get(start)?.size ?? 0) > 0) {
      const way = walk(left, start, (name) => nodes.get(name)?.others.size === 2);
      const isClosed = way.length > 3 && way.at(-1) === start;
      const names = isClosed ? way.slice(0, -1) : way;
      chains.push({ points: names.map((name) => nodes.get(name)?.at ?? [0, 0]), isClosed });
    }
  }
  return chains;
}

/** Ends nearer than this are one [m]. */
const SAME_POINT = 2e-4;

/** Closed loops of loose segments; what does not close is left. */
export const loopsOf = (segments: ArrayLike<number>): readonly (readonly PlanePoint[])[] =>
  chainsOf(segments, SAME_POINT).flatMap(({ points, isClosed }) => (isClosed ? [points] : []));

/** Twice the area inside a loop, signed by the way it turns. */
export const turnOf = (loop: readonly PlanePoint[]): number =>
  loop.reduce((sum, [u, v], i) => {
    const [p, q] = loop[(i + 1) % loop.length] ?? [u, v];
    return sum + u * q - p * v;
  }, 0);

function nodesOf(segments: ArrayLike<number>, together: number): Map<string, Node> {
  const nodes = new Map<string, Node>();
  const nodeAt = (u = 0, v = 0): string => {
    const name = `${Math.round(u / together)} ${Math.round(v / together)}`;
    if (!nodes.has(name)) nodes.set(name, { at: [u, v], others: new Set() });
    return name;
  };
  for (let i = 0; i + 3 < segments.length; i += 4) {
    const a = nodeAt(segments[i], segments[i + 1]);
    const b = nodeAt(segments[i + 2], segments[i + 3]);
    if (a === b) continue;
    nodes.get(a)?.others.add(b);
    nodes.get(b)?.others.add(a);
  }
  return nodes;
}

/** Names along a run, whose segments are used up; it ends at a loose end or a fork. */
function walk(
  left: ReadonlyMap<string, Set<string>>,
  start: string,
  goesOn: (name: string) => boolean,
): readonly string[] {
  const way = [start];
  for (let here = start; ; ) {
    const [next] = left.get(here) ?? [];
    if (next === undefined) break;
    left.get(here)?.delete(next);
    left.get(next)?.delete(here);
    way.push(next);
    here = next;
    if (here === start || !goesOn(here)) break;
  }
  return way;
}
