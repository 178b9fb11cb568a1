/** Plus and minus in words: by slopes, or by draws where GM is too small for slopes. */
import type { ConditionResult, HeeledPlusMinus, SampledResult } from '../../contract.ts';
import { gmStep, number, quantity, signedQuantity, withSpread } from '../words/numbers.ts';
import { lastKey, plainWords } from '../words/plain-words.ts';
import { angleWords, vanishingWords } from './criteria.ts';

/** A value of the levers with its plus/minus: "122.2° ± 2.3°"; bare where there is none. */
export const withSd = (
  words: string,
  sd: number | null | undefined,
  unit: string,
  step = unit === '°' ? 0.1 : 1,
): string =>
  sd === null || sd === undefined || !/\d/.test(words)
    ? words
    : `${words} ± ${quantity(sd, unit, step)}`;

/** GM upright with its plus/minus, the word where that was sampled, and GM as she rests. */
export function gmWords(boat: GmOf & Pick<ConditionResult, 'plus_minus' | 'plus_minus_by'>) {
  const { gm_m, plus_minus, plus_minus_by } = boat;
  const sampled = plus_minus_by === 'sampled' ? ', sampled' : '';
  const words = `${withSpread(gm_m, plus_minus.gm_m, 'm', gmStep(gm_m))}${sampled}`;
  return `${words}${atRestWords(boat)}`;
}

type GmOf = Pick<ConditionResult, 'gm_m' | 'gm_at_rest_m'>;

/** GM about the list she rests at, where that is not GM upright. */
export const atRestWords = ({ gm_m, gm_at_rest_m }: GmOf): string =>
  gm_at_rest_m === null || Math.abs(gm_at_rest_m - gm_m) < 0.01
    ? ''
    : ` (at rest ${quantity(gm_at_rest_m, 'm', gmStep(gm_at_rest_m))})`;

/** The word where the levers' plus/minus was sampled. */
export const byWords = (spread: HeeledPlusMinus | null): string =>
  spread?.by === 'sampled' ? ', sampled' : '';

type Interval = readonly [number, number, number];

interface DrawnRow {
  readonly name: string;
  /** 5 %, median and 95 % in words. */
  readonly words: readonly [string, string, string];
}

const ROWS: readonly (readonly [
  string,
  (drawn: SampledResult) => Interval | null,
  (value: number) => string,
])[] = [
  ['GM upright', (d) => d.gm_upright_m, (m) => signedQuantity(m, 'm', gmStep(m))],
  ['rests at', (d) => d.heel_either_side_deg, (deg) => angleWords(deg)],
  ['angle of vanishing stability', (d) => d.vanishing_angle_deg, vanishingWords],
  ['range', (d) => d.range_deg, (deg) => angleWords(deg)],
  ['maximum GZ', (d) => d.greatest_gz_m, (m) => quantity(m, 'm', 0.001)],
];

/** What the draws say, row by row. */
export function drawnRows(drawn: SampledResult): readonly DrawnRow[] {
  return ROWS.flatMap(([name, of, words]) => {
    const interval = of(drawn);
    if (!interval) return [];
    const [low, median, high] = interval;
    return [{ name, words: [words(low), words(median), words(high)] }];
  });
}

/** In how many of the draws she falls over, as a sentence. */
export function uprightWords(drawn: SampledResult): string {
  const share = number(drawn.unstable_percent, 1);
  const over = number(drawn.capsized_percent, 1);
  if (share === '0') return 'She stays upright in all sampled weight combinations.';
  const falls = `In ${share} % of the sampled weight combinations she `;
  if (share === over) return `${falls}capsizes.`;
  const rest = over === '0' ? '' : `, and in ${over} % she capsizes`;
  return `${falls}does not stay upright${rest}.`;
}

const OF_THE_SURVEY: Readonly<Record<string, string>> = {
  vcg: 'VCG of the survey',
  marks: 'freeboards',
  inclining: 'inclining',
};

/** A cause of what is not known in words: "life raft (departure)", "one scale". */
export function causeWords(cause: string): string {
  const [root, owner] = cause.split('.');
  const last = lastKey(cause);
  if (owner === undefined) return cause;
  if (root === 'survey') return OF_THE_SURVEY[last] ?? `${plainWords(last)} (survey)`;
  return owner === last ? plainWords(last) : `${plainWords(last)} (${plainWords(owner)})`;
}
