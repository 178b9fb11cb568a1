/** What happens at which heel: flags on the plot of righting levers. */
import type { ConditionResult } from '../../contract.ts';
import { type Side, toSide, vanishing } from '../../shared/boat/levers.ts';
import { quantity } from '../../shared/words/numbers.ts';
import { plainWords } from '../../shared/words/plain-words.ts';
import { type Flag, type Span, sidesOf } from './plot.ts';

/** Those of the sides that are shown. */
export function flagsOf(now: ConditionResult, span: Span): readonly Flag[] {
  const worse = now.worse_side ?? 'starboard';
  const sides = sidesOf(span);
  const one = (
    kind: Flag['kind'],
    name: string,
    angle: number | null | undefined,
    side: Side,
  ): readonly Flag[] =>
    angle === null || angle === undefined || angle <= 0 || angle >= 180
      ? []
      : [{ kind, heel: toSide(angle, side), words: `${name} ${quantity(angle, '°', 1)}` }];
  return [
    ...sides.flatMap((side) => [
      ...one('vanishing', 'vanishes', vanishing(now, side), side),
      ...one('range', 'range', now.sides?.[side]?.range_deg, side),
    ]),
    ...(sides.includes(worse)
      ? one('bare', 'without house', now.vanishing_angle_without_house_deg, worse)
      : []),
    ...sides.flatMap((side) => {
      const own = now.sides?.[side];
      const unclosed = own?.downflooding_angle_deg;
      const inUse = own?.downflooding_angle_in_use_deg;
      return [
        ...one('flooding', 'first unclosed opening', unclosed, side),
        ...(inUse === unclosed ? [] : one('flooding', 'boards out', inUse, side)),
        ...one('flooding', 'all openings open', own?.downflooding_angle_all_open_deg, side),
        ...one('edge', 'deck edge', own?.deck_edge_angle_deg, side),
        ...one('edge', 'cockpit coaming', own?.coaming_angle_deg, side),
      ];
    }),
    ...sides.flatMap((side) => openingFlags(now, side, one)),
  ];
}

function openingFlags(
  now: ConditionResult,
  side: Side,
  one: (
    kind: 'opening',
    name: string,
    angle: number | null | undefined,
    s: Side,
  ) => readonly Flag[],
): readonly Flag[] {
  const low = now.openings.filter((o) => o.side === side || o.side === 'centreline');
  return low.flatMap((o) => one('opening', plainWords(o.id), o.immersion_angles_deg?.[side], side));
}
