/** Numbers of a form as they are shown and typed. */
import { amount, NUMBER_WANTED } from '../words/numbers.ts';
import { quantityTyped } from '../words/typed.ts';
import { isMetric, timesOf, unitAfter, unitSign } from '../words/units.ts';
import { writing } from '../words/writing.ts';
import type { NumberField } from './forms.ts';

/** Lengths, which are shown to a sixteenth of an inch where feet and inches are chosen. */
const SIXTEENTH_OF: Readonly<Record<string, number>> = { m: 0.002, cm: 0.2, mm: 1.5875 };
const DIGITS = 15;
/** What is no measure of the trade but a conversion is shown in so many digits. */
const CONVERTED_DIGITS = 6;

/**
 * A value as shown, without its unit. In its own unit all of it, so that what was typed stands as
 * it was; in feet, pounds and gallons to a sixteenth of an inch or six digits: the value itself is
 * kept as it is until something else is typed.
 */
export function shown(field: NumberField, value: number): string {
  const own = value * field.factor;
  const sixteenth = SIXTEENTH_OF[field.unit];
  if (!isMetric() && sixteenth !== undefined) return amount(own, field.unit, sixteenth);
  const times = timesOf(field.unit);
  const digits = times === 1 ? DIGITS : CONVERTED_DIGITS;
  const text = String(Number((own * times).toPrecision(digits)));
  return text.replace('-', '−').replace('.', writing().decimal);
}

/** What to type instead of what cannot be read. */
export const misreadWords = ({ whole, unit }: NumberField): string =>
  `type a ${whole ? 'whole ' : ''}number${unit ? ` in ${unitSign(unit)}` : ''}, ${NUMBER_WANTED}; ` +
  'Escape restores the old value';

/** A typed text as the document's value; undefined where it is no number, not a whole one or of another unit. */
export function typed(field: NumberField, entry: string): number | undefined {
  const value = Number((quantityTyped(entry, field.unit) / field.factor).toPrecision(DIGITS));
  return !Number.isFinite(value) || (field.whole && !Number.isInteger(value)) ? undefined : value;
}

/** A value with its unit. */
export const withUnit = (field: NumberField, value: number): string =>
  shown(field, value) + (hasMarks(field) ? '' : unitAfter(field.unit));

/** Whether its values carry the marks of feet and inches themselves. */
const hasMarks = ({ unit }: NumberField): boolean => !isMetric() && unit === 'm';

/** Why a value is beyond its limits, in what the page calls it; empty where it is not. */
export function beyondWords(field: NumberField, value: number): string {
  const is = `${field.label} is ${withUnit(field, value)}: it must be`;
  if (value < field.least) return `${is} at least ${withUnit(field, field.least)}.`;
  if (value > field.most) return `${is} at most ${withUnit(field, field.most)}.`;
  return '';
}

/** A word of warning where a value is possible but unusual, or an empty text. */
export function unusual(field: NumberField, value: number): string {
  if (value >= field.low - 1e-9 && value <= field.high + 1e-9) return '';
  const range = `${shown(field, field.low)} to ${withUnit(field, field.high)}`;
  return `outside the usual ${range}: check it`;
}

/** A number that no schema describes: without limits, a slider or a value where it is left out. */
export const numberField = (label: string, more: Partial<NumberField> = {}): NumberField => ({
  kind: 'number',
  key: label,
  label,
  about: '',
  optional: false,
  fallback: undefined,
  unit: 'm',
  factor: 1,
  whole: false,
  least: -Infinity,
  most: Infinity,
  low: -Infinity,
  high: Infinity,
  step: 0.01,
  slider: false,
  ...more,
});
