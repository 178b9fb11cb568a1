/** The freeboard that counts at each mark: of her lower side if she lists. */
import type { ConditionResult } from '../../contract.ts';
import { upturned } from '../boat/side-view.ts';

/** From this list on, it is shown in the line and the lower side of each mark counts. */
const LIST_DEG = 0.5;

export const lists = (now: ConditionResult): boolean =>
  !upturned(now) && Math.abs(now.heel_deg) >= LIST_DEG;

/** The freeboard that counts at a mark: the mean of both sides, or the lower if she lists. */
export interface LowestAtMark {
  readonly mark: string;
  readonly mean_mm: number;
  readonly side?: 'port' | 'starboard';
  readonly value_mm: number;
  readonly change_mm: number | null;
}

export function lowestAtMarks(
  now: ConditionResult,
  before: ConditionResult | undefined,
): readonly LowestAtMark[] {
  const was = new Map(before?.freeboards_at_marks.map((one) => [one.mark, one]));
  return now.freeboards_at_marks.map((one) => {
    const { mark, mean_mm, change_mm } = one;
    if (!lists(now)) return { mark, mean_mm, value_mm: mean_mm, change_mm };
    const side = now.heel_deg > 0 ? 'starboard' : 'port';
    const value_mm = one[`${side}_mm`] ?? mean_mm;
    const value_before = was.get(mark)?.[`${side}_mm`] ?? null;
    return {
      ...{ mark, mean_mm, side, value_mm },
      change_mm: value_before === null ? null : value_mm - value_before,
    };
  });
}
