/** The answer in one line: how she floats against what was asked, what she gained, what matters. */
import type { Assessment, ConditionResult, TargetResult, UsualTarget } from '../../contract.ts';
import { upturned } from '../boat/side-view.ts';
import {
  amount,
  decidingStep,
  GM_STEP,
  gmStep,
  heelWords,
  isNothing,
  kilograms,
  quantity,
  signedAmount,
  signedQuantity,
  stepFor,
  trimmed,
  trimWords,
} from '../words/numbers.ts';
import { plainWords, withoutUnit } from '../words/plain-words.ts';
import { isMetric, unitAfter } from '../words/units.ts';
import { stateWords } from './criteria.ts';
import { bothBoats } from './figures.ts';
import { comparedIn } from './floats.ts';
import { type LowestAtMark, lists, lowestAtMarks } from './lowest-freeboard.ts';
import { usualIn } from './ways-out.ts';

export interface AnswerFigure {
  readonly id: 'trim' | 'list' | 'mass' | 'freeboard' | 'gm';
  /** What it is; empty where the figure says it. */
  readonly label: string;
  readonly value: string;
  /** Its change, or what was asked. */
  readonly beside: string;
  /** The verdict on its target, nothing where none is set. */
  readonly verdict: string;
  readonly isMissed: boolean;
  /** The target it is held against, by its id; empty where there is none. */
  readonly target: string;
  /** Path of the result that opens. */
  readonly path: string;
}

/** Verdicts in the words of this line; those that are missing stand as they are. */
const VERDICTS: Readonly<Record<string, string>> = {
  'not met': 'missed',
  'not met within doubt': 'missed, within doubt',
  'met within doubt': 'met, within doubt',
  'not answered yet': 'not answered',
};

export const verdictWords = (target: TargetResult): string =>
  VERDICTS[stateWords(target)] ?? stateWords(target);

export const isMissed = (target: TargetResult): boolean =>
  verdictWords(target).startsWith('missed');

/** Targets by the newest answer; of conditions it leaves out, by the last that had them all. */
export function targetsNow(
  { targets }: Pick<Assessment, 'targets'>,
  whole: Pick<Assessment, 'targets'> | undefined,
): readonly TargetResult[] {
  if (!whole) return targets;
  return targets.map((target) =>
    target.value === null ? (whole.targets.find(({ id }) => id === target.id) ?? target) : target,
  );
}

/** Trim, a list to speak of, mass, the freeboard that matters, GM; nothing where she has no results. */
export function answerFigures(
  answer: Pick<Assessment, 'conditions' | 'usual_targets'>,
  targets: readonly TargetResult[],
  condition: string,
): readonly AnswerFigure[] {
  const { before, after } = bothBoats(comparedIn(answer), condition);
  const now = after ?? before;
  if (!now) return [];
  const own = targets.filter((one) => one.condition === condition && one.stage === now.stage);
  const marks = upturned(now) ? [] : lowestAtMarks(now, after ? before : undefined);
  const mark = freeboardThatMatters(marks, own);
  return [
    trimFigure(now, own, usualIn(answer, condition)),
    ...(lists(now) ? [listFigure(now, own)] : []),
    massFigure(now),
    ...(mark ? [freeboardFigure(now, mark, own)] : []),
    gmFigure(now, own),
  ];
}

/** Missed targets that the line does not say: of other conditions, or of other figures. */
export const missedElsewhere = (
  targets: readonly TargetResult[],
  shown: readonly AnswerFigure[],
): readonly TargetResult[] =>
  targets.filter((one) => isMissed(one) && !shown.some((figure) => figure.target === one.id));

const pathOf = ({ id, stage }: ConditionResult, key: string) => `conditions.${id}.${stage}.${key}`;

const UNASKED = { verdict: '', isMissed: false, target: '' } as const;

/** What a target says of a figure: what was asked stands beside all but one that is met. */
function judged(target: TargetResult | undefined, change: string) {
  if (!target) return { beside: change, ...UNASKED };
  const verdict = verdictWords(target);
  const asked = verdict === 'met' ? '' : `you asked for ${askedWords(target)}`;
  const beside = [change, asked].filter(Boolean).join(', ');
  return { beside, verdict, isMissed: isMissed(target), target: target.id };
}

function trimFigure(
  now: ConditionResult,
  own: readonly TargetResult[],
  usual: readonly UsualTarget[],
): AnswerFigure {
  const target = own.find((one) => one.result === 'trim_mm');
  const step = decidingStep(now.trim_mm, limitsOf(target), 1, 'mm');
  const words = upturned(now) ? 'upside down' : trimWords(now.trim_mm, step);
  return {
    id: 'trim',
    label: '',
    value: words.charAt(0).toUpperCase() + words.slice(1),
    path: pathOf(now, 'trim_mm'),
    ...judged(target, target || upturned(now) ? '' : unaskedWords(usual)),
  };
}

/** That no trim was asked for, and what is usual to ask. */
function unaskedWords(usual: readonly UsualTarget[]): string {
  const trim = usual.find((one) => one.result === 'trim_mm');
  return trim ? `no trim target; usual target ${askedWords(trim)}` : 'no trim target';
}

function massFigure(now: ConditionResult): AnswerFigure {
  const base = { id: 'mass', beside: '', ...UNASKED } as const;
  const { change } = now;
  const step = stepFor(change?.plus_minus.displacement_kg ?? 0, 1);
  if (change && !isNothing(change.displacement_kg, 'kg', step)) {
    const value = signedQuantity(change.displacement_kg, 'kg', step);
    return { ...base, label: '', value, path: pathOf(now, 'change.displacement_kg') };
  }
  return {
    ...base,
    label: 'displacement',
    value: kilograms(now.displacement_kg, now.plus_minus.displacement_kg),
    beside: change ? 'unchanged' : '',
    path: pathOf(now, 'displacement_kg'),
  };
}

function listFigure(now: ConditionResult, own: readonly TargetResult[]): AnswerFigure {
  const target = own.find((one) => one.result === 'heel_deg');
  const step = decidingStep(now.heel_deg, limitsOf(target), 0.1, '°');
  return {
    id: 'list',
    label: 'list',
    value: heelWords(now.heel_deg, step),
    path: pathOf(now, 'heel_deg'),
    ...judged(target, ''),
  };
}

function freeboardFigure(
  now: ConditionResult,
  mark: LowestAtMark,
  own: readonly TargetResult[],
): AnswerFigure {
  const here = own.filter((one) => sideless(one.result) === `freeboards.${mark.mark}`);
  const target = here.find(isMissed) ?? here[0];
  const value = target ? (target.value ?? mark.mean_mm) : mark.value_mm;
  const step = decidingStep(value, limitsOf(target), 1, 'mm');
  const side = target ? target.result.split('.')[2] : mark.side;
  return {
    id: 'freeboard',
    label: `freeboard ${[plainWords(mark.mark), side].filter(Boolean).join(', ')}`,
    value: quantity(value, 'mm', step),
    path: side
      ? pathOf(now, `freeboards.${mark.mark}.${side}.freeboard_mm`)
      : pathOf(now, `freeboards_at_marks.${mark.mark}.mean_mm`),
    ...judged(target, changeWords(mark.change_mm, 'mm', 1)),
  };
}

const sideless = (result: string) => result.split('.').slice(0, 2).join('.');

function gmFigure(now: ConditionResult, own: readonly TargetResult[]): AnswerFigure {
  const target = own.find((one) => one.result === 'gm_m');
  const step = decidingStep(now.gm_m, limitsOf(target), gmStep(now.gm_m), 'm');
  const change = changeWords(now.change?.gm_m ?? null, 'm', Math.min(step, GM_STEP));
  return {
    id: 'gm',
    label: 'GM',
    value: quantity(now.gm_m, 'm', step),
    path: pathOf(now, 'gm_m'),
    ...judged(target, change),
  };
}

/** A change in brackets, nothing where there is none. */
const changeWords = (change: number | null, unit: string, step: number): string =>
  change === null || isNothing(change, unit, step) ? '' : `(${signedAmount(change, unit, step)})`;

const limitsOf = (target: TargetResult | undefined): readonly number[] =>
  target ? [target.at_least, target.at_most].filter((limit) => limit !== null) : [];

/** The mark whose target is missed, or else the one that lost most; of one boat the lowest. */
function freeboardThatMatters(
  marks: readonly LowestAtMark[],
  own: readonly TargetResult[],
): LowestAtMark | undefined {
  const missed = own.filter((one) => one.result.startsWith('freeboards.') && isMissed(one));
  const rank = ({ change_mm, value_mm }: LowestAtMark) => change_mm ?? value_mm;
  return (
    marks.find(({ mark }) => missed.some((one) => sideless(one.result) === `freeboards.${mark}`)) ??
    marks.toSorted((a, b) => rank(a) - rank(b))[0]
  );
}

type Bounds = Pick<TargetResult, 'result' | 'at_least' | 'at_most' | 'unit'>;

/** What is asked, in words: "25 mm or less", "1,060 mm or more", "20 to 60 mm by the stern". */
export function askedWords({ result, at_least: least, at_most: most, unit }: Bounds): string {
  if (least !== null && most !== null && least === -most) return `${bound(most, unit)} or less`;
  const words = IN_WORDS[result];
  if (words) return sidesWords(least, most, words);
  if (least === null) return `${bound(most ?? 0, unit)} or less`;
  if (most === null) return `${bound(least, unit)} or more`;
  return `${trimmed(amount(least, unit, finest(unit)))} to ${bound(most, unit)}`;
}

/** Results whose sign is said in words. */
const IN_WORDS: Readonly<Record<string, (value: number, step?: number) => string>> = {
  trim_mm: trimWords,
  heel_deg: heelWords,
};

function sidesWords(
  least: number | null,
  most: number | null,
  words: (value: number) => string,
): string {
  if (least !== null && most !== null) return `${words(least)} to ${words(most)}`;
  const limit = least ?? most ?? 0;
  const isMore = (least === null) === limit < 0;
  return `${words(limit)} or ${isMore ? 'more' : 'less'}`;
}

const STEPS: Readonly<Record<string, number>> = { mm: 1, kg: 1, deg: 0.1, '°': 0.1 };
/** What a limit is shown to, which is typed in decimals. */
const finest = (unit: string) => {
  const step = STEPS[unit] ?? 0.01;
  return isMetric() ? 0.01 : Math.max(step / 10, 0.01);
};
const bound = (value: number, unit: string): string =>
  isMetric()
    ? trimmed(amount(value, unit, finest(unit))) + unitAfter(unit)
    : quantity(value, unit, finest(unit));

/** A result in a few words: "trim", "freeboard aft", "GM upright". */
export function resultWords(result: string): string {
  const [first = '', ...rest] = result.split('.');
  if (first === 'freeboards') return `freeboard ${rest.map(plainWords).join(', ')}`;
  return NAMES[first] ?? plainWords(withoutUnit(first));
}

const NAMES: Readonly<Record<string, string>> = {
  heel_deg: 'list',
  gm_m: 'GM upright',
  gm_at_rest_m: 'GM at rest',
  displacement_kg: 'displacement',
  kg_per_cm: 'immersion',
  vanishing_angle_deg: 'angle of vanishing stability',
  vanishing_angle_without_house_deg: 'angle of vanishing stability without deckhouse',
  headroom_least_m: 'least headroom',
  sight_blind_m: 'water hidden ahead of the bow',
  sight_blind_seated_m: 'water hidden ahead of the bow, seated',
};

/** A value of a target in words. */
export function targetValueWords(target: TargetResult, value: number): string {
  const step = decidingStep(value, limitsOf(target), STEPS[target.unit] ?? 0.01, target.unit);
  return IN_WORDS[target.result]?.(value, step) ?? quantity(value, target.unit, step);
}

/** A plus/minus of a target with its unit. */
export const plusMinusWords = (sd: number, unit: string): string =>
  quantity(sd, unit, STEPS[unit] ?? 0.01);
