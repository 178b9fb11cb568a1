/** What is usual to ask, what kind of weight would bring a target back, and which could move. */
import type { Assessment, ItemResult, UsualTarget, WayOutResult } from '../../contract.ts';
import { quantity } from '../words/numbers.ts';

/** Distances at which a moment is given as a mass [m]: the first that needs no more than this [kg]. */
const DISTANCES = [1, 2, 3];
const LARGEST_MASS_KG = 250;

/** "About 330 kg moved 4 m forward, or as much weight times distance, would do it." */
export function needWords({ direction, moment_kgm: moment, mass_kg: mass }: WayOutResult): string {
  if (moment === null)
    return mass === null ? '' : `About ${twoFigures(mass)} less on board would do it.`;
  const far = isAlong(direction) ? (DISTANCES.find((m) => moment / m <= LARGEST_MASS_KG) ?? 3) : 1;
  const moved = `${twoFigures(moment / far)} moved ${quantity(far, 'm', 1)} ${direction}`;
  return `About ${moved}, or as much weight times distance, would do it.`;
}

const isAlong = (direction: WayOutResult['direction']) =>
  direction === 'forward' || direction === 'aft';

/** A mass to two figures. */
function twoFigures(kg: number): string {
  const step = kg > 0 ? 10 ** Math.max(0, Math.floor(Math.log10(kg)) - 1) : 1;
  return quantity(kg, 'kg', kg < 10 ? 0.1 : step);
}

/** The heaviest lines of the ledger that could have a range along the boat and have none. */
export const couldMove = (
  items: readonly ItemResult[],
  { direction }: WayOutResult,
): readonly ItemResult[] =>
  isAlong(direction)
    ? items
        .filter(({ role, may_lie_x_m: range }) => (role === 'added' || role === 'moved') && !range)
        .toSorted((a, b) => b.mass_kg - a.mass_kg)
        .slice(0, 3)
    : [];

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
