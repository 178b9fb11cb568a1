/** The words an answer is given in: plus/minus, to be confirmed, conditions, options, revisions. */
import { judgedWords } from '../../shared/answer/stability-sentence.ts';
import { causeWords } from '../../shared/answer/uncertainty.ts';
import { massStep, withSpread } from '../../shared/words/numbers.ts';
import { count, plainWords } from '../../shared/words/plain-words.ts';
import type { GuideFacts, GuideTerm } from '../facts.ts';

function spreadWords({ assessment, now }: GuideFacts): readonly string[] {
  const { displacement_kg: kg, plus_minus } = assessment.survey;
  const sd = plus_minus.displacement_kg;
  const [largest] = now?.shares.gm_m ?? [];
  return [
    `As surveyed she weighs ${withSpread(kg, sd, 'kg', massStep(sd))}.`,
    ...(largest ? [`What adds most to the ± of her GM: ${causeWords(largest.cause)}.`] : []),
  ];
}

function criteriaWords({ now, assessment }: GuideFacts): readonly string[] {
  const { assumed } = assessment;
  return [
    ...(now && now.criteria.length > 0 ? [judgedWords(now.criteria)] : []),
    ...(assumed.length > 0
      ? [
          `${count(assumed.length, 'value')} not measured yet ${assumed.length === 1 ? 'is' : 'are'} assumed.`,
        ]
      : []),
  ];
}

const conditionsWords = ({ assessment, condition }: GuideFacts): readonly string[] => {
  const all = new Set(assessment.conditions.map(({ id }) => id));
  return [`She has ${count(all.size, 'condition')}. Shown now: ${plainWords(condition)}.`];
};

export const ANSWER_TERMS: readonly GuideTerm[] = [
  {
    id: 'uncertainty',
    title: '± (uncertainty)',
    also: 'plus minus standard deviation sd error doubt plus/minus',
    meaning: [
      'One standard deviation. As a rule the true figure lies within it two times in three, and within twice as much nineteen times in twenty.',
      'It is calculated from the plus/minus you gave every reading, weight and place. Mistakes, and what was left out, are not in it.',
    ],
    own: spreadWords,
  },
  {
    id: 'to-be-confirmed',
    title: 'To be confirmed',
    also: 'criteria met not met within doubt grade verdict',
    meaning: [
      'Not met and not missed: the figure rests on something assumed, or the text of the rule was not read well enough to judge by it. It never counts as met.',
      'Within doubt means that the limit lies within the ± of the figure, so the verdict could go either way. Nothing here says that she complies with a rule: that is for the competent engineer and the authority.',
    ],
    own: criteriaWords,
  },
  {
    id: 'as-found',
    title: 'As found, refit, change',
    also: 'before after base survey as surveyed',
    meaning: [
      'As found is the boat you surveyed, before any work. The refit is the same boat with every change in it. A change bundles what comes off, goes on and moves for one purpose, such as a new deckhouse.',
    ],
    own: (facts) => [
      facts.assessment.changes.length === 0
        ? 'She has no change yet: only the boat as found is shown.'
        : `She has ${count(facts.assessment.changes.length, 'change')}.`,
    ],
  },
  {
    id: 'option',
    title: 'Option',
    also: 'alternative version base design plan',
    meaning: [
      'Another version of the refit, beside the base design: it holds only what differs. Choose one at the top, and what you edit goes into it.',
    ],
    own: (facts) => [
      facts.assessment.option === null
        ? 'Shown now: the base design.'
        : `Shown now: option ${plainWords(facts.assessment.option)}.`,
    ],
  },
  {
    id: 'condition',
    title: 'Loading condition',
    also: 'departure arrival stores tanks crew loaded',
    meaning: [
      'How she is loaded: crew, stores, what is in the tanks, and the water she floats in. One condition is chosen for the whole page and named beside the figures.',
    ],
    own: conditionsWords,
  },
  {
    id: 'revision',
    title: 'Revision',
    also: 'frozen signed working copy edit hash',
    meaning: [
      'A frozen copy that nobody can alter, made to be reviewed and signed. You edit the working copy; after an edit it is no longer what was signed.',
    ],
    own: (facts) =>
      facts.revision === undefined ? [] : [`Shown now: revision ${facts.revision}.`],
  },
];
