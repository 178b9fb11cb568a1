/** Terms of weight and of how she floats, in this boat's own figures. */
import type { ConditionResult } from '../../contract.ts';
import { upturned } from '../../shared/boat/side-view.ts';
import { TERMS } from '../../shared/words/meanings.ts';
import { quantity } from '../../shared/words/numbers.ts';
import { plainWords } from '../../shared/words/plain-words.ts';
import { reworded } from '../../shared/words/sentences.ts';
import { type GuideFacts, type GuideTerm, ownFigureWords } from '../facts.ts';

/** A sentence with a figure in it; none where she has no such figure. */
const own = (facts: GuideFacts, id: string, sentence: (words: string) => string) => {
  const words = ownFigureWords(facts, id);
  return words ? [sentence(words)] : [];
};

/** Sentences of a boat that floats the right way up. */
const standing = (
  { now }: GuideFacts,
  sentences: (boat: ConditionResult) => readonly string[],
): readonly string[] => (now && !upturned(now) ? sentences(now) : []);

const aft = (m: number) =>
  `${quantity(Math.abs(m), 'm', 0.01)} ${m < 0 ? 'forward' : 'aft'} of the FP`;

export const WEIGHT_TERMS: readonly GuideTerm[] = [
  {
    id: 'displacement',
    ...TERMS.displacement,
    also: 'weight mass tonnes',
    own: (facts) => own(facts, 'displacement', (words) => `She displaces ${words}.`),
  },
  {
    id: 'lcg',
    ...TERMS.lcg,
    also: 'longitudinal centre of gravity buoyancy',
    own: (facts) => [
      ...own(facts, 'lcg', (words) => `Her LCG lies ${words}.`),
      `Floating at her design waterline she would have her LCB ${aft(facts.assessment.hull.lcb_m)}.`,
    ],
    sketch: 'centres',
  },
  {
    id: 'vcg',
    ...TERMS.vcg,
    also: 'vertical centre of gravity height KG',
    own: (facts) => [
      ...own(facts, 'vcg', (words) => `Her VCG lies ${words}.`),
      `Source of the VCG as surveyed: ${reworded(facts.assessment.survey.vcg_from)}.`,
    ],
  },
];

export const FLOAT_TERMS: readonly GuideTerm[] = [
  {
    id: 'dwl',
    ...TERMS.dwl,
    also: 'design waterline FP AP forward after datum length',
    own: (facts) => [
      `Hers is ${quantity(facts.assessment.hull.length_waterline_m, 'm', 0.01)} long between the perpendiculars, and draws ${quantity(facts.assessment.hull.draught_m, 'm', 0.01)}.`,
    ],
    sketch: 'waterline',
  },
  {
    id: 'sinkage',
    ...TERMS.sinkage,
    also: 'deeper immersion draught',
    own: (facts) =>
      standing(facts, () => [
        ...own(facts, 'bow', (words) => `Bow: ${words}.`),
        ...own(facts, 'midships', (words) => `Midships: ${words}.`),
        ...own(facts, 'stern', (words) => `Stern: ${words}.`),
      ]),
  },
  {
    id: 'trim',
    ...TERMS.trim,
    also: 'by the stern by the bow level',
    own: (facts) => standing(facts, () => own(facts, 'trim', (words) => `Her trim: ${words}.`)),
    sketch: 'trim',
  },
  {
    id: 'list',
    ...TERMS.list,
    also: 'heel loll upright port starboard',
    own: (facts) => standing(facts, () => own(facts, 'list', (words) => `Her list: ${words}.`)),
  },
  {
    id: 'freeboard',
    ...TERMS.freeboard,
    also: 'sheer mark deck edge',
    own: (facts) =>
      standing(facts, (boat) =>
        boat.freeboards_at_marks.length === 0
          ? ['No freeboard mark is entered for her yet.']
          : [
              `Hers, mean of both sides: ${boat.freeboards_at_marks
                .map((at) => `${plainWords(at.mark)} ${quantity(at.mean_mm, 'mm', 1)}`)
                .join(', ')}.`,
            ],
      ),
    sketch: 'freeboards',
  },
  {
    id: 'immersion',
    ...TERMS.immersion,
    also: 'kg per cm TPC pounds per inch sinks',
    own: (facts) =>
      standing(facts, (boat) => [
        `Hers: ${quantity(boat.kg_per_cm, 'kg/cm', 1)}, with a waterplane of ${quantity(boat.waterplane_area_m2, 'm²', 0.1)}.`,
      ]),
  },
  {
    id: 'mtc',
    ...TERMS.mtc,
    also: 'moment to change trim',
    own: (facts) =>
      standing(facts, (boat) => [`Hers: ${quantity(boat.trim_moment_kgm_per_cm, 'kg m/cm', 1)}.`]),
  },
  {
    id: 'lcf',
    ...TERMS.lcf,
    also: 'longitudinal centre of flotation pivot waterplane',
    own: (facts) => standing(facts, (boat) => [`Hers lies ${aft(boat.lcf_m)}.`]),
    sketch: 'flotation',
  },
];
