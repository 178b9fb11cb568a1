/** The boat seen from astern along the water. */
import type { BodyCurve } from '../../contract.ts';
import { heightAt, type Level, seenAcross } from './level.ts';
import type { FlatPoint, Point } from './points.ts';

export interface Strand {
  readonly kind: BodyCurve['role'];
  readonly points: readonly Point[];
  readonly closed: boolean;
}

const OPEN: readonly Strand['kind'][] = ['sheer', 'keel'];

/** What is drawn of the boat, both sides, in her own frame; the midship section above the rest. */
export const strandsOf = (body: readonly BodyCurve[]): readonly Strand[] =>
  body
    .flatMap(({ role, points_m: starboard, both_sides: both }): readonly Strand[] => {
      const port = starboard.map(([x, y, z]): Point => [x, -y, z]);
      if (OPEN.includes(role))
        return (both === false ? [starboard] : [starboard, port]).map((points) => ({
          kind: role,
          points,
          closed: false,
        }));
      return [{ kind: role, points: [...starboard, ...port.toReversed()], closed: true }];
    })
    .toSorted((a, b) => Number(a.kind === 'midship') - Number(b.kind === 'midship'));

/** Across and above the water, as seen from astern. */
export const seen = (held: Level, point: Point): FlatPoint => [
  seenAcross(held, point),
  heightAt(held, point),
];

/** The part of a closed outline that lies under water. */
export const immersed = (held: Level, outline: readonly Point[]): readonly Point[] =>
  outline.flatMap((point, i) => {
    const next = outline[(i + 1) % outline.length] ?? point;
    const [h, then] = [heightAt(held, point), heightAt(held, next)];
    const own = h <= 0 ? [point] : [];
    if (h * then >= 0) return own;
    const between = (a: number, b: number) => a + ((b - a) * h) / (h - then);
    const [x, y, z] = point;
    return [...own, [between(x, next[0]), between(y, next[1]), between(z, next[2])] as const];
  });

/** How far from the water's middle anything is drawn, at any of some heels [m]. */
export function reachOf(strands: readonly Strand[], heels: readonly Level[]) {
  const points = strands.flatMap((s) => s.points);
  let [across, over, under] = [0.1, 0.1, 0.1];
  for (const held of heels) {
    for (const point of points) {
      const [u, h] = seen(held, point);
      across = Math.max(across, Math.abs(u));
      over = Math.max(over, h);
      under = Math.max(under, -h);
    }
  }
  return { across, over, under };
}
