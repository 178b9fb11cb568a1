/** Terms of stability, in this boat's own figures. */
import type { ConditionResult } from '../../contract.ts';
import { angleWords, floodingWords, vanishingWords } from '../../shared/answer/criteria.ts';
import { gmWords } from '../../shared/answer/uncertainty.ts';
import { TERMS } from '../../shared/words/meanings.ts';
import { gmStep, quantity } from '../../shared/words/numbers.ts';
import { reworded } from '../../shared/words/sentences.ts';
import type { GuideFacts, GuideTerm } from '../facts.ts';

/** Sentences of her levers; why there are none where she has none. */
function heeled(
  { now }: GuideFacts,
  sentences: (boat: ConditionResult) => readonly string[],
): readonly string[] {
  if (!now) return [];
  if (now.righting_levers) return sentences(now);
  return [
    now.not_followed
      ? reworded(now.not_followed)
      : 'Her righting levers are still being calculated.',
  ];
}

const height = (m: number) =>
  `${quantity(Math.abs(m), 'm', 0.01)} ${m < 0 ? 'below' : 'above'} the DWL`;

function metacentreWords({ now }: GuideFacts): readonly string[] {
  if (!now) return [];
  const [, , vcg] = now.centre_of_gravity_m;
  return [
    `Her M lies ${height(now.km_m)}, her G ${height(vcg)}: GM ${gmWords(now)}.`,
    ...(now.gm_m > 0 ? [] : ['That is not above zero: she does not stay upright by herself.']),
    ...freeLiquidWords(now),
  ];
}

/** What liquid that is free to move takes off, where that shows. */
function freeLiquidWords({ gm_m, gm_solid_m }: ConditionResult): readonly string[] {
  const [free, frozen] = [gm_m, gm_solid_m].map((gm) => quantity(gm, 'm', gmStep(gm)));
  return free === frozen
    ? []
    : [
        `That allows for the liquids free to move in her tanks; if they could not move, GM would be ${frozen}.`,
      ];
}

/** The lever at 30 degrees, where it is among those worked out. */
function leverWords(boat: ConditionResult): readonly string[] {
  const { righting_levers: levers, greatest_gz_m: most, greatest_gz_at_deg: at } = boat;
  const gz = levers?.gz_m[levers.heel_deg.indexOf(LOOKED_AT_DEG)];
  const greatest = most === null || at === null ? [] : [greatestWords(most, at)];
  return gz === undefined
    ? greatest
    : [`At ${LOOKED_AT_DEG}° to starboard her GZ is ${quantity(gz, 'm', 0.001)}.`, ...greatest];
}

const greatestWords = (most: number, at: number): string =>
  most > 0
    ? `Her maximum GZ is ${quantity(most, 'm', 0.001)}, at ${angleWords(at)} of heel.`
    : 'She has no righting lever to her worse side.';

const rangeWords = ({ range_deg: range, openings }: ConditionResult): string =>
  range !== null && range <= 0
    ? 'She has none: she does not right herself.'
    : `Hers: ${angleWords(range)}.${openings.length === 0 ? ' No openings are entered, so this is just her AVS.' : ''}`;

/** The heel at which her lever is drawn [deg]. */
export const LOOKED_AT_DEG = 30;

export const STABILITY_TERMS: readonly GuideTerm[] = [
  {
    id: 'gm',
    ...TERMS.gm,
    also: 'metacentric height metacentre stiff tender free surface initial stability',
    own: metacentreWords,
    sketch: 'metacentre',
  },
  {
    id: 'gz',
    ...TERMS.gz,
    also: 'righting arm moment curve stability',
    own: (facts) => heeled(facts, leverWords),
    sketch: 'lever',
  },
  {
    id: 'avs',
    ...TERMS.avs,
    also: 'angle of vanishing stability capsize',
    own: (facts) =>
      heeled(facts, (boat) => [
        `With her deckhouse counted: ${vanishingWords(boat.vanishing_angle_deg)}; without it: ${vanishingWords(boat.vanishing_angle_without_house_deg)}.`,
      ]),
    sketch: 'curve',
  },
  {
    id: 'downflooding',
    ...TERMS.downflooding,
    also: 'opening vent hatch flooding angle',
    own: (facts) =>
      heeled(facts, (boat) =>
        boat.openings.length === 0
          ? ['No openings are entered yet, so her angle of downflooding is not known.']
          : [
              reworded(boat.flooding_sentence) ||
                `Her angle of downflooding: ${floodingWords(boat.downflooding_angle_deg, boat)}.`,
            ],
      ),
  },
  {
    id: 'range',
    ...TERMS.range,
    also: 'range of stability positive',
    own: (facts) => heeled(facts, (boat) => [rangeWords(boat)]),
  },
  {
    id: 'roll-period',
    ...TERMS['roll-period'],
    also: 'rolling seconds swing timed',
  },
];
