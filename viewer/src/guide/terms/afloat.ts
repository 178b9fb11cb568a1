/** Terms of weight and of how she floats, in this boat's own figures. */
import type { ConditionResult } from '../../contract.ts';
import { upturned } from '../../shared/boat/side-view.ts';
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
    title: 'Displacement',
    also: 'weight mass tonnes',
    meaning: [
      'Her mass, which is also the mass of the water she pushes aside: know one and you know the other.',
      'As found it comes from the freeboards read afloat and the measured shape of her hull; the refit then adds and takes off the weights of the ledger, line by line.',
    ],
    own: (facts) => own(facts, 'displacement', (words) => `She displaces ${words}.`),
  },
  {
    id: 'lcg',
    title: 'LCG and LCB',
    also: 'longitudinal centre of gravity buoyancy',
    meaning: [
      'LCG, the longitudinal centre of gravity, is where all her weight acts along the boat; LCB, the longitudinal centre of buoyancy, is where the water carries her. Both are measured from the forward perpendicular (FP).',
      'At rest the two stand in one vertical line. Move weight aft and she trims by the stern until the LCB has followed.',
    ],
    own: (facts) => [
      ...own(facts, 'lcg', (words) => `Her LCG lies ${words}.`),
      `Floating at her design waterline she would have her LCB ${aft(facts.assessment.hull.lcb_m)}.`,
    ],
    sketch: 'centres',
  },
  {
    id: 'vcg',
    title: 'VCG',
    also: 'vertical centre of gravity height KG',
    meaning: [
      'The height of her centre of gravity. The lower it lies, the stiffer she is and the farther she can heel and still come back.',
      'No tape and no freeboard tells it: it takes an inclining test.',
    ],
    own: (facts) => [
      ...own(facts, 'vcg', (words) => `Her VCG lies ${words}.`),
      `Source of the VCG as surveyed: ${reworded(facts.assessment.survey.vcg_from)}.`,
    ],
  },
];

export const FLOAT_TERMS: readonly GuideTerm[] = [
  {
    id: 'dwl',
    title: 'DWL and perpendiculars',
    also: 'design waterline FP AP forward after datum length',
    meaning: [
      'The design waterline (DWL) is the level her lines were drawn or measured to. It is fixed in the boat: heights count from it, whether she floats there or not.',
      'The forward perpendicular (FP) stands where the DWL meets the stem, the after perpendicular (AP) where it ends aft. Places along the boat count aft from the FP.',
    ],
    own: (facts) => [
      `Hers is ${quantity(facts.assessment.hull.length_waterline_m, 'm', 0.01)} long between the perpendiculars, and draws ${quantity(facts.assessment.hull.draught_m, 'm', 0.01)}.`,
    ],
    sketch: 'waterline',
  },
  {
    id: 'sinkage',
    title: 'Sinkage',
    also: 'deeper immersion draught',
    meaning: [
      'How much deeper than the DWL she lies; higher means the DWL shows above the water. It is read half-way between the perpendiculars, and at both of them.',
      'Freeboard goes the other way: what she sinks, she loses in freeboard.',
    ],
    own: (facts) =>
      standing(facts, () => [
        ...own(facts, 'bow', (words) => `Bow: ${words}.`),
        ...own(facts, 'midships', (words) => `Midships: ${words}.`),
        ...own(facts, 'stern', (words) => `Stern: ${words}.`),
      ]),
  },
  {
    id: 'trim',
    title: 'Trim',
    also: 'by the stern by the bow level',
    meaning: [
      'How much more one end is immersed than the other, between the perpendiculars. By the stern: the stern lies deeper.',
      'Trim comes from weight fore or aft of the LCF. The error of the boat as found is in the old trim and in the new, so the change is known better than either.',
    ],
    own: (facts) => standing(facts, () => own(facts, 'trim', (words) => `Her trim: ${words}.`)),
    sketch: 'trim',
  },
  {
    id: 'list',
    title: 'List',
    also: 'heel loll upright port starboard',
    meaning: [
      'A heel she keeps at rest because weight lies off the centreline. Heel is the word for any inclination, such as that under sail.',
      'A boat that is unstable upright lolls instead: she lies over to either side with all her weight in the middle. Never put that right by shifting weight to the high side; bring weight down.',
    ],
    own: (facts) => standing(facts, () => own(facts, 'list', (words) => `Her list: ${words}.`)),
  },
  {
    id: 'freeboard',
    title: 'Freeboard',
    also: 'sheer mark deck edge',
    meaning: [
      'The height of the sheer above the water at a mark, read straight down. Freeboards are what you can measure afloat, so they say what she weighs and whether a prediction came true.',
    ],
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
    title: 'Immersion',
    also: 'kg per cm TPC pounds per inch sinks',
    meaning: [
      'The weight that sinks all of her by one centimetre, or one inch: it grows with the area of her waterplane. Put it over the LCF, or she trims too.',
    ],
    own: (facts) =>
      standing(facts, (boat) => [
        `Hers: ${quantity(boat.kg_per_cm, 'kg/cm', 1)}, with a waterplane of ${quantity(boat.waterplane_area_m2, 'm²', 0.1)}.`,
      ]),
  },
  {
    id: 'mtc',
    title: 'MTC',
    also: 'moment to change trim',
    meaning: [
      'The moment that changes her trim by one centimetre, or one inch. A moment is a weight times the way it is moved along the boat, or times its distance from the LCF where it comes aboard.',
    ],
    own: (facts) =>
      standing(facts, (boat) => [`Hers: ${quantity(boat.trim_moment_kgm_per_cm, 'kg m/cm', 1)}.`]),
  },
  {
    id: 'lcf',
    title: 'LCF',
    also: 'longitudinal centre of flotation pivot waterplane',
    meaning: [
      'The centre of flotation: the middle of the area of her waterplane, and the point about which she trims. Weight put right over it sinks her without trim; aft of it the stern goes down, forward of it the bow.',
      'The balance beam of the Float page turns on it.',
    ],
    own: (facts) => standing(facts, (boat) => [`Hers lies ${aft(boat.lcf_m)}.`]),
    sketch: 'flotation',
  },
];
