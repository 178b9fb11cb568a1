/** Which boats have results: one that sinks or finds no rest in a condition has none there. */
import type { Assessment, ConditionResult, UnansweredResult } from '../../contract.ts';
import { inCondition } from '../words/plain-words.ts';

type ConditionRow = ConditionResult | UnansweredResult;
type Answered = Pick<Assessment, 'conditions'>;

const isAfloat = (row: ConditionRow): row is ConditionResult => !('unanswered' in row);

/** Every boat in every condition in which she floats. */
export const floatsIn = ({ conditions }: Answered): readonly ConditionResult[] =>
  conditions.filter(isAfloat);

/** The boats of a condition that have no results. */
export const unansweredIn = (
  { conditions }: Answered,
  condition: string,
): readonly UnansweredResult[] =>
  conditions.filter((row): row is UnansweredResult => row.id === condition && !isAfloat(row));

/** The same without boats as found beside a refit that has no results: she is not the refit. */
export function comparedIn(answer: Answered): readonly ConditionResult[] {
  const lost = answer.conditions.filter((row) => !isAfloat(row) && row.stage === 'refit');
  return floatsIn(answer).filter((row) => !lost.some(({ id }) => id === row.id));
}

/** Why a boat has no results, as a sentence. */
export const unansweredWords = ({ stage, id, unanswered }: UnansweredResult): string =>
  `The ${stage === 'refit' ? 'refit' : 'boat as found'} has no results ${inCondition(id)}. ${unanswered}`;
