/** Criteria, angles and openings in words: a sign and a word for each state, never a colour. */
import type {
  ConditionResult,
  CriterionResult,
  OpeningResult,
  TargetResult,
} from '../../contract.ts';
import type { Held } from '../boat/levers.ts';
import { MENTIONED_SD } from '../words/constants.ts';
import { decidingStep, number, quantity, signed, stepFor, trimmed } from '../words/numbers.ts';
import { count, plainWords } from '../words/plain-words.ts';
import { reworded } from '../words/sentences.ts';
import { timesOf, unitAfter } from '../words/units.ts';

/** What a verdict says; revisions older than the doubt hold older words. */
export type State = CriterionResult['state'] | TargetResult['state'];

type Judged = Pick<
  CriterionResult,
  'value' | 'plus_minus' | 'margin_sd' | 'probability' | 'unit'
> & {
  readonly state: State;
};

/** A state as it is written, and whether there was a value. */
export interface Verdict {
  readonly state: string;
  readonly value: number | null;
}

/** The words of each state and its sign: never a colour alone. */
const SIGNS: Readonly<Record<string, string>> = {
  met: '✓',
  'met within doubt': '✓~',
  'not met within doubt': '✗~',
  'not met': '✗',
  'to be confirmed': '?',
  'not answered': '–',
  missed: '✗',
  'not answered yet': '–',
};

/** The state in words: "met within doubt". */
export const stateWords = ({ state, value }: Verdict): string =>
  value === null && state === 'to_be_confirmed' ? 'not answered' : state.replaceAll('_', ' ');

/** The sign that stands before it. */
export const stateSign = (one: Verdict): string => SIGNS[stateWords(one)] ?? '';

/** How far a verdict is from its limit: "margin +0.2 sd, 59 % likely to be met"; empty where not known. */
export function marginWords({ margin_sd, probability }: Judged): string {
  if (margin_sd === null) return '';
  const likely =
    probability === null || Math.abs(margin_sd) >= MENTIONED_SD
      ? ''
      : `, ${likelyWords(probability)} likely to be met`;
  return `margin ${signed(margin_sd, 0.1)} sd${likely}`;
}

/** A probability in whole per cent, never as if it were certain. */
function likelyWords(probability: number): string {
  if (probability > 0.995) return 'over 99 %';
  return probability < 0.005 ? 'under 1 %' : `${number(100 * probability, 1)} %`;
}

/** What uses the margin up: "VCG may rise 2 mm"; empty where nothing within a metre does. */
export function riseWords({ vcg_rise_m: rise }: Pick<CriterionResult, 'vcg_rise_m'>): string {
  if (rise === null) return '';
  const far = quantity(Math.abs(rise) * 1000, 'mm', 1);
  return rise < 0 ? `VCG must come down ${far}` : `VCG may rise ${far}`;
}

/** A value of a criterion with its plus/minus: as finely as it is known, finer beside its limit. */
export function criterionValueWords({ value, limit, unit, plus_minus }: CriterionResult): string {
  if (value === null) return '—';
  const sd = plus_minus ?? 0;
  const isClose = limit !== null && Math.abs(limit - value) < sd;
  const known = stepFor(isClose ? sd / 10 : sd, STEPS[unit] ?? 0.01);
  const step = decidingStep(value, limit === null ? [] : [limit], known, unit);
  const words = quantity(value, unit, step);
  return sd >= step / 2 ? `${words} ± ${quantity(sd, unit, step)}` : words;
}

/** What each grade says about a source. */
export const GRADE_WORDS: Readonly<Record<string, string>> = {
  A: 'published, and a published result is reproduced',
  B: 'its text was seen',
  C: 'from memory or in conflict, never called met or not met',
};

/** Criteria by the document they are written in, in the order they were answered. */
export function byDocument(
  criteria: readonly CriterionResult[],
): readonly (readonly [string, readonly CriterionResult[]])[] {
  const groups = new Map<string, CriterionResult[]>();
  for (const one of criteria) {
    const group = groups.get(one.document);
    if (group) group.push(one);
    else groups.set(one.document, [one]);
  }
  return [...groups];
}

/** What a value of a criterion is shown to, by its unit. */
const STEPS: Readonly<Record<string, number>> = {
  deg: 0.1,
  m: 0.001,
  mm: 1,
  m2: 0.01,
  m3: 0.01,
  cm2: 1,
  kg: 1,
  s: 0.1,
  'm rad': 0.001,
  'm deg': 0.1,
};

/** A value of a criterion with its unit. */
export const measured = (value: number, unit: string): string =>
  quantity(value, unit, STEPS[unit] ?? 0.01);

/** A number a criterion was made from: four figures, whatever its size. */
export function input(value: number, unit: string): string {
  const shown = value * timesOf(unit);
  const power = shown === 0 ? 0 : Math.floor(Math.log10(Math.abs(shown)));
  return trimmed(number(shown, Math.min(1, 10 ** (power - 3)))) + unitAfter(unit);
}

/** A limit with the way it works: "at least 90.0°". */
export const limitWords = ({ sense, limit, unit }: CriterionResult): string =>
  limit === null ? '—' : `${sense} ${measured(limit, unit)}`;

/** A vanishing angle; words where she rights herself from no heel, or from every one. */
export function vanishingWords(deg: number | null): string {
  if (deg === null) return 'not answered';
  if (deg <= 0) return NO_HEEL;
  return deg >= 180 ? EVERY_HEEL : quantity(deg, '°', 0.1);
}

const NO_HEEL = 'does not right herself';
const EVERY_HEEL = 'rights from every heel';

/** An angle that may not be reached in the whole circle. */
export const angleWords = (deg: number | null, without = 'not reached'): string =>
  deg === null ? without : quantity(deg, '°', 0.1);

/** A downflooding angle; where no opening is described there is none to reach. */
export const floodingWords = (
  deg: number | null,
  { openings }: Pick<ConditionResult, 'openings'>,
): string => angleWords(deg, openings.length > 0 ? undefined : 'no openings entered');

/** The downflooding that a criterion took: its angle and the opening it comes from. */
export function floodsWords(one: CriterionResult): string {
  if (!one.downflooding_by || one.value === null) return '—';
  return angleWords(one.downflooding_angle_deg, 'no opening under');
}

/** Whether an opening is in use at sea, as the document says. */
export const inUseWords = ({ closing, regular }: OpeningResult): string => {
  if (closing === 'none') return 'always open';
  if (regular === null) return 'not said';
  return regular ? 'opened at sea' : 'shut at sea';
};

/** Name and side of an opening. */
export const openingWords = ({ id, side }: OpeningResult): string =>
  side === 'centreline' ? plainWords(id) : `${plainWords(id)}, ${side}`;

/** How far she rights herself, on paper: never with the deckhouse alone. */
export const rangeSentence = (now: ConditionResult): string =>
  `Angle of vanishing stability ${vanishingWords(now.vanishing_angle_deg)}, range ` +
  `${angleWords(now.range_deg)}; without deckhouse buoyancy ` +
  `${vanishingWords(now.vanishing_angle_without_house_deg)}.`;

/** What the curve says, in sentences: a vanishing angle never stands without the others. */
export function inShort(now: ConditionResult, before: ConditionResult | undefined): string {
  const rights =
    `${reworded(now.flooding_sentence)} ` +
    `${vanishesInShort(now.vanishing_angle_deg, 'She')}, range ` +
    `${angleWords(now.range_deg)}; without deckhouse buoyancy ` +
    `${vanishesInShort(now.vanishing_angle_without_house_deg, 'she')}. `;
  if (now.greatest_gz_m === null) return rights;
  const lever = `Maximum GZ ${quantity(now.greatest_gz_m, 'm', 0.001)}`;
  const changed = before && now.change?.heeled?.greatest_gz_m;
  if (changed === null || changed === undefined) return `${rights}${lever}.`;
  const change = changed * 1000;
  const by = `${quantity(Math.abs(change), 'mm', 1)} ${change < 0 ? 'less' : 'more'}`;
  return `${rights}${lever}, ${by} than as found.`;
}

function vanishesInShort(deg: number | null, who: string): string {
  const words = vanishingWords(deg);
  return words === NO_HEEL || words === EVERY_HEEL ? `${who} ${words}` : `AVS ${words}`;
}

/** Which openings lie under water, as one sentence. */
export function underWords({ under, next }: Pick<Held, 'under' | 'next'>): string {
  const names = under.map(openingWords);
  if (names.length === 0) return next ? 'No opening under water.' : 'No openings are entered.';
  return `${count(names.length, 'opening')} under water: ${names.join('; ')}.`;
}

/** Which opening goes under next, as one sentence; nothing where all are under. */
export function nextWords({ next }: Pick<Held, 'next'>): string {
  if (!next) return '';
  return `Next: ${openingWords(next.opening)}, ${quantity(next.height, 'm', 0.01)} above.`;
}
