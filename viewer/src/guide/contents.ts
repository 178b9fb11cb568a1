/** The whole Guide for one boat, part by part. */
import type { Caution } from '../contract.ts';
import { type GuidePart, NO_SOURCE } from './entry.ts';
import { type GuideFacts, whoseWords } from './facts.ts';
import { cautionEntries, forgotten } from './forgotten.ts';
import { measuring } from './measure.ts';
import { readingPages } from './pages.ts';
import { FLOAT_TERMS, WEIGHT_TERMS } from './terms/afloat.ts';
import { ANSWER_TERMS } from './terms/answers.ts';
import { SHAPE_TERMS } from './terms/shape.ts';
import { STABILITY_TERMS } from './terms/stability.ts';

interface GuideContext {
  readonly cautions: readonly Caution[];
  /** Whether she is looked at in one file, without a server. */
  readonly inFile: boolean;
}

export function contentsOf(facts: GuideFacts, known: GuideContext): readonly GuidePart[] {
  return [
    {
      id: 'words',
      title: 'What the words mean on this boat',
      about: `${whoseWords(facts)} Meanings: ${NO_SOURCE.toLowerCase()}`,
      entries: [
        ...WEIGHT_TERMS,
        ...FLOAT_TERMS,
        ...STABILITY_TERMS,
        ...SHAPE_TERMS,
        ...ANSWER_TERMS,
      ].map((term) => ({ ...term, own: term.own?.(facts) ?? [] })),
    },
    {
      id: 'measure',
      title: 'How to measure',
      about: 'What to do, in order, with a tape, a plumb line, a hose and a scale.',
      entries: measuring(),
    },
    {
      id: 'pages',
      title: 'How to read each page',
      about:
        'On every page: a number that is underlined opens, down to the reading or the guess it comes from.',
      entries: readingPages(known.inFile),
    },
    {
      id: 'forgotten',
      title: 'What is easily forgotten',
      about: NO_SOURCE,
      entries: forgotten(facts.assessment.changes),
    },
    {
      id: 'cautions',
      title: 'Cautions',
      about: 'They stand beside every result, and in every export.',
      entries: cautionEntries(known.cautions),
    },
  ];
}
