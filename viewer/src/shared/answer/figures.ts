/** The figures every page keeps at the top: new value, value as found, their difference, +/-. */
import type { ConditionResult, Difference } from '../../contract.ts';
import { upturned } from '../boat/side-view.ts';
import { amount, isNothing, quantity, signedQuantity, stepFor } from '../words/numbers.ts';
import { unitSign } from '../words/units.ts';
import { FIGURE_KINDS, type FigureKind } from './figure-kinds.ts';

export interface Figure {
  readonly id: string;
  readonly label: string;
  /** Path of the result. */
  readonly path: string;
  /** The same of the boat as found, and of the change; empty where there is none. */
  readonly wasPath: string;
  readonly changePath: string;
  readonly value: string;
  /** The sign of the value in words, or what it is measured from. */
  readonly side: string;
  /** Empty where there is none: of a boat upside down. */
  readonly plusMinus: string;
  /** Whether that is the word of draws: GM is too small for slopes. */
  readonly sampled: boolean;
  readonly unit: string;
  readonly was: string;
  /** The value as found with its unit and its sign in words. */
  readonly wasInFull: string;
  readonly change: string;
  readonly changePlusMinus: string;
  /** The change itself, where it is a trim: painted in the trim colours. */
  readonly trimChange?: number;
}

/** Her attitude, which has a meaning only while she is upright. */
const LYING: readonly string[] = ['bow', 'midships', 'stern', 'trim', 'list'];
const UPSIDE_DOWN = 'upside down';

/** Figures whose slopes bend first where GM is small. */
const BENT: readonly string[] = ['list', 'gm'];

/** Its value, sign and plus/minus in words. */
function wordsOf(kind: FigureKind, boat: ConditionResult, step: number) {
  if (upturned(boat) && LYING.includes(kind.id))
    return { value: kind.id === 'list' ? UPSIDE_DOWN : '—', side: '', plusMinus: '' };
  const value = kind.of(boat);
  return {
    value: shown(kind, value, step),
    side: sideWords(kind, value, step),
    plusMinus: plusMinusWords(kind, kind.plusMinusOf(boat.plus_minus), step),
  };
}

/** The step a figure of a boat is shown in. */
function stepIn(kind: FigureKind, boat: ConditionResult): number {
  const sd = kind.plusMinusOf(boat.plus_minus) ?? 0;
  return kind.step ? kind.step(kind.of(boat), sd) : stepFor(sd, kind.finest);
}

const plusMinusWords = ({ unit }: FigureKind, sd: number | null, step: number) =>
  sd === null ? '' : amount(sd, unit, step);

function shown(kind: FigureKind, value: number, step: number): string {
  return quantity(kind.signInWords ? Math.abs(value) : value, kind.unit, step);
}

function sideWords(kind: FigureKind, value: number, step: number): string {
  return kind.signInWords && isNothing(value, kind.unit, step) ? '' : kind.side(value);
}

function changeWords(kind: FigureKind, change: number, step: number): string {
  const unit = kind.changeIn ?? kind.unit;
  if (isNothing(change, unit, step)) return 'no change';
  if (!kind.changeSide) return signedQuantity(change, unit, step);
  return `${quantity(Math.abs(change), unit, step)} ${kind.changeSide(change)}`;
}

function figure(
  kind: FigureKind,
  now: ConditionResult,
  before: ConditionResult | undefined,
): Figure {
  const step = stepIn(kind, now);
  const base = {
    id: kind.id,
    label: kind.label,
    path: pathOf(now, kind.key),
    wasPath: '',
    changePath: '',
    ...wordsOf(kind, now, step),
    sampled: now.plus_minus_by === 'sampled' && BENT.includes(kind.id),
    unit: kind.unit,
    was: '',
    wasInFull: '',
    change: '',
    changePlusMinus: '',
  };
  if (!before || !now.change) return base;
  const was = { ...base, ...wasOf(kind, before, upturned(now) ? undefined : step, base.side) };
  const isLost = LYING.includes(kind.id) && [now, before].some(upturned);
  return isLost ? was : { ...was, ...changeOf(kind, now, now.change) };
}

const pathOf = ({ id, stage }: ConditionResult, key: string) => `conditions.${id}.${stage}.${key}`;

/** How it was: in the step of the boat as she is now, or in a step of her own. */
function wasOf(kind: FigureKind, before: ConditionResult, step: number | undefined, side: string) {
  const own = step ?? stepIn(kind, before);
  const old = wordsOf(kind, before, own);
  const oldSide = old.side === side ? '' : old.side;
  return {
    wasPath: pathOf(before, kind.key),
    wasInFull: `${old.value} ${old.side}`.trim(),
    was: `${old.value.replace(` ${unitSign(kind.unit)}`, '')}${shortSide(oldSide)}`,
  };
}

function changeOf(kind: FigureKind, now: ConditionResult, difference: Difference) {
  const per = kind.changeIn ? 1000 : 1;
  const changed = kind.changeOf(difference);
  if (changed === null) return {};
  const change = changed * per;
  const plusMinus = (kind.plusMinusOf(difference.plus_minus) ?? 0) * per;
  const step = stepFor(plusMinus, kind.finest * per);
  return {
    changePath: kind.changeKey ? pathOf(now, `change.${kind.changeKey}`) : '',
    change: changeWords(kind, change, step),
    changePlusMinus: amount(plusMinus, kind.changeIn ?? kind.unit, step),
    ...(kind.id === 'trim' ? { trimChange: change } : {}),
  };
}

const shortSide = (side: string) => side && ` ${side.replace(/ (of FP|DWL)$/, '')}`;

/** The figures of a condition, the refit's with the boat as found beside it. */
export function figures(conditions: readonly ConditionResult[], id: string): readonly Figure[] {
  const before = conditions.find((c) => c.id === id && c.stage === 'as_found');
  const after = conditions.find((c) => c.id === id && c.stage === 'refit');
  const now = after ?? before;
  if (!now) return [];
  return FIGURE_KINDS.map((kind) => figure(kind, now, after && before));
}

/** The two boats of a condition, where they are answered. */
export const bothBoats = (conditions: readonly ConditionResult[], id: string) => ({
  before: conditions.find((c) => c.id === id && c.stage === 'as_found'),
  after: conditions.find((c) => c.id === id && c.stage === 'refit'),
});
