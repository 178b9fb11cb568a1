/** This boat as the Guide speaks of her: one condition, the refit where there is one. */
import type { Assessment, ConditionResult, Working } from '../contract.ts';
import { bothBoats, type Figure, figures } from '../shared/answer/figures.ts';
import { comparedIn, unansweredIn, unansweredWords } from '../shared/answer/floats.ts';
import type { Mapping } from '../shared/boat/document.ts';
import { upturned } from '../shared/boat/side-view.ts';
import { optionWords, plainWords } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';
import type { GuideEntry } from './entry.ts';

/** A term of the trade, and what it comes to on a boat. */
export interface GuideTerm extends Omit<GuideEntry, 'own'> {
  readonly own?: (facts: GuideFacts) => readonly string[];
}

export interface GuideFacts {
  readonly document: Mapping;
  readonly assessment: Assessment;
  readonly condition: string;
  /** How she floats; undefined where she has no results here. */
  readonly now: ConditionResult | undefined;
  readonly before: ConditionResult | undefined;
  /** Her figures by name; empty where she has no results. */
  readonly figureOf: ReadonlyMap<string, Figure>;
  readonly revision: number | undefined;
}

export function factsOf(
  { assessment, document }: Pick<Working, 'assessment' | 'document'>,
  condition: string,
  revision: number | undefined,
): GuideFacts {
  const floats = comparedIn(assessment);
  const { before, after } = bothBoats(floats, condition);
  const shown = figures(floats, condition);
  return {
    document,
    assessment,
    condition,
    now: after ?? before,
    before: after && before,
    figureOf: new Map(shown.map((figure) => [figure.id, figure])),
    revision,
  };
}

/** Whether a refit is shown that is another boat than the one surveyed. */
const isChanged = ({ assessment, now }: GuideFacts) =>
  now?.stage === 'refit' && assessment.changes.length > 0;

/** Whose figures the Guide gives; or why it has none. */
export function whoseWords(facts: GuideFacts): string {
  const { assessment, condition, now } = facts;
  if (now) {
    const stage = isChanged(facts) ? 'after the refit' : 'as found';
    const down = upturned(now)
      ? ' She comes to rest upside down here, so her trim, sinkage and freeboards say nothing.'
      : '';
    return `The figures are those of ${assessment.boat} ${stage}: ${optionWords(assessment.option)}, ${plainWords(condition)}.${down}`;
  }
  const [why] = unansweredIn(assessment, condition);
  const reason = why ? reworded(unansweredWords(why)) : '';
  return `${assessment.boat} has no figures in this condition (${plainWords(condition)}). ${reason}`.trim();
}

/** A figure with its side and plus/minus, and as found where there is a refit. */
export function ownFigureWords(facts: GuideFacts, id: string): string {
  const figure = facts.figureOf.get(id);
  if (!figure) return '';
  const value = `${figure.value} ${figure.side}`.trim();
  const spread = figure.plusMinus && ` (± ${figure.plusMinus})`;
  const was = isChanged(facts) && figure.wasInFull && `; as found ${figure.wasInFull}`;
  return `${value}${spread}${was || ''}`;
}
