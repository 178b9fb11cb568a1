/** What a freeboard opens: both sides of a mark, and how much each has changed. */
import type { ConditionResult, MarkFreeboard } from '../../contract.ts';
import type { Side } from '../boat/levers.ts';
import type { Explained, ExplanationLine } from '../explain/explanation-card.tsx';
import { MEANINGS } from '../words/meanings.ts';
import { number, signed } from '../words/numbers.ts';
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
    meaning: MEANINGS.freeboard ?? '',
    rows: [
      [
        'mean of both sides',
        `${number(at.mean_mm, 1)} mm`,
        `conditions.${boat.id}.${boat.stage}.freeboards_at_marks.${at.mark}.mean_mm`,
      ],
      ...own.map(
        (f): ExplanationLine => [
          f.side,
          `${number(f.freeboard_mm, 1)} ± ${number(f.plus_minus_mm, 1)} mm`,
          under(boat, at.mark, f.side),
        ],
      ),
      ...changed.map(
        (f): ExplanationLine => [
          `change, ${f.side}`,
          `${signed(f.freeboard_mm, 1)} ± ${number(f.plus_minus_mm, 1)} mm`,
          under(boat, at.mark, f.side, 'change.'),
        ],
      ),
    ],
  };
}
