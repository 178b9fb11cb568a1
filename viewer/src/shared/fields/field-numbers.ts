/** Numbers of a form as they are shown and typed. */
import { NUMBER_WANTED, numberTyped } from '../words/numbers.ts';
import type { NumberField } from './forms.ts';

/** A value as shown, without its unit: all of it, so that what was typed stands as it was. */
export const shown = (field: NumberField, value: number): string =>
  String(Number((value * field.factor).toPrecision(15))).replace('-', '−');

/** Other units that may be typed, and how many of a field's own they are. */
const UNITS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  mm: { cm: 10, m: 1000 },
  m: { mm: 0.001, cm: 0.01 },
  'm²': { 'cm²': 1e-4, cm2: 1e-4, m2: 1 },
  kg: { t: 1000 },
  '°': { deg: 1 },
};

/** What to type instead of what cannot be read. */
export const misreadWords = ({ whole, unit }: NumberField): string =>
  `type a ${whole ? 'whole ' : ''}number${unit ? ` in ${unit}` : ''}, ${NUMBER_WANTED}; Escape ` +
  'brings the old one back';

/** A typed text as the document's value; undefined where it is no number, not a whole one or of another unit. */
export function typed(field: NumberField, entry: string): number | undefined {
  const [, digits = '', unit = ''] = /^(.*?)\s*((?:[a-z°%][a-z°%²2]*)?)$/i.exec(entry.trim()) ?? [];
  const times = unit === '' || unit === field.unit ? 1 : UNITS[field.unit]?.[unit];
  if (times === undefined) return undefined;
  const value = Number(((numberTyped(digits) * times) / field.factor).toPrecision(15));
  return !Number.isFinite(value) || (field.whole && !Number.isInteger(value)) ? undefined : value;
}

/** A value with its unit. */
export const withUnit = (field: NumberField, value: number): string => {
  const gap = field.unit === '°' || field.unit === '' ? '' : ' ';
  return `${shown(field, value)}${gap}${field.unit}`;
};

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
