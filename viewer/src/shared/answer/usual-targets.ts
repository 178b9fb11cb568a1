/** What is usual to ask of a boat of which nothing is asked yet. */
import type { Assessment, UsualTarget } from '../../contract.ts';

/** What could be asked of this condition; none where its trim is asked already. */
export function usualIn(
  { usual_targets }: Pick<Assessment, 'usual_targets'>,
  condition: string,
): readonly UsualTarget[] {
  const own = usual_targets.filter((one) => one.condition === condition);
  return own.some((one) => one.result === 'trim_mm') ? own : [];
}

/** A target of the document that asks what is usual. */
export function targetOf({ result, condition, stage, ...bounds }: UsualTarget) {
  const { at_least: least, at_most: most } = bounds;
  return {
    result,
    condition,
    ...(stage === 'as_found' ? { boat: stage } : {}),
    ...(least === null ? {} : { at_least: least }),
    ...(most === null ? {} : { at_most: most }),
  };
}
