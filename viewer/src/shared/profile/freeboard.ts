/** What a freeboard opens, both sides of a mark and how much each changed; where its words stand. */
import type { ConditionResult, MarkFreeboard, MarkOnProfile } from '../../contract.ts';
import type { Side } from '../boat/levers.ts';
import type { Scale } from '../boat/side-view.ts';
import type { Explained, ExplanationLine } from '../explain/explanation-card.tsx';
import { meaningOf } from '../words/meanings.ts';
import { quantity, signedAmount, withSpread } from '../words/numbers.ts';
import { plainWords } from '../words/plain-words.ts';

const under = (boat: ConditionResult, mark: string, side: Side, what = '') =>
  `conditions.${boat.id}.${boat.stage}.${what}freeboards.${mark}.${side}.freeboard_mm`;

/** Path of a freeboard. */
export const freeboardPath = (boat: ConditionResult, mark: string, side: Side) =>
  under(boat, mark, side);

export function freeboardExplained(boat: ConditionResult, at: MarkFreeboard): Explained {
  const own = boat.freeboards.filter((f) => f.mark === at.mark);
  const changed = (boat.change?.freeboards ?? []).filter((f) => f.mark === at.mark);
  return {
    title: `Freeboard ${plainWords(at.mark)}`,
    meaning: meaningOf('freeboard'),
    rows: [
      [
        'mean of both sides',
        quantity(at.mean_mm, 'mm', 1),
        `conditions.${boat.id}.${boat.stage}.freeboards_at_marks.${at.mark}.mean_mm`,
      ],
      ...own.map(
        (f): ExplanationLine => [
          f.side,
          withSpread(f.freeboard_mm, f.plus_minus_mm, 'mm', 1),
          under(boat, at.mark, f.side),
        ],
      ),
      ...changed.map(
        (f): ExplanationLine => [
          `change, ${f.side}`,
          `${signedAmount(f.freeboard_mm, 'mm', 1)} ± ${quantity(f.plus_minus_mm, 'mm', 1)}`,
          under(boat, at.mark, f.side, 'change.'),
        ],
      ),
    ],
  };
}

/** Whether there is room for words beside the numbers; without it the figures above say them. */
export const isRoomy = (scale: Scale) => scale.perMetre > 50;

/** How far up the words of each mark stand: every second one, where they would meet. */
export function raisedBy(
  marks: readonly MarkOnProfile[],
  scale: Scale,
): ReadonlyMap<string, number> {
  const [wide, tall] = isRoomy(scale) ? [115, 34] : [70, 16];
  const at = marks.map((m) => ({ id: m.id, x: scale.x(m.x_m) })).sort((a, b) => a.x - b.x);
  const meet = at.some(({ x }, i) => i > 0 && x - (at[i - 1]?.x ?? x) < 2 * wide);
  return new Map(at.map(({ id }, i) => [id, meet && i % 2 === 1 ? tall : 0]));
}
