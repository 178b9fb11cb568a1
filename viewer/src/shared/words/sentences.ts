/**
 * Sentences of the server as the reader wants numbers written. They come in metric words; every
 * number that stands before a unit, alone or in a row such as "0.6 to 2.2 m", is written anew, and
 * nothing else is touched. What is quoted (formulas, limits and sources of rules) is shown as it
 * was published and does not come here, nor does what people wrote themselves.
 */
import { amount, quantity } from './numbers.ts';
import { keyWords, withNames } from './plain-words.ts';
import { writing } from './writing.ts';

const NUMBER = String.raw`(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?`;
const SIGNED = `[-−+]?${NUMBER}`;
/** Words and signs between numbers of one unit. */
const BETWEEN = String.raw`\s?(?:to|by|±|\+/-|×)\s?`;
const UNITS =
  'kg·m/cm|kg m/cm|kg·m|kg m|kg/cm|kg per cm|kg/m³|kg/m3|kg/m²|kg/m2|m[ ·]rad|m[ ·]deg|mm|cm²|cm2|cm|m²|m2|m³|m3|m|kg|litres|l';
const MEASURED = new RegExp(
  String.raw`(?<![\w.,/])(${SIGNED})((?:${BETWEEN}${SIGNED})*) (${UNITS})(?![\w²³/·]|\s*/\s*\w)`,
  'g',
);
/** Other numbers with decimals or thousands: a share, an angle, a ratio; no clause, no version. */
const OTHER = new RegExp(
  String.raw`(?<![\w.,/§]|\w-)(?<!(?:clause|article|part|paragraph|table|version|rule|annex)s? )(${NUMBER})(?![\w.]|,\d)`,
  'gi',
);
const STEEL = /^ (plate|steel|thick|sheet|bar|wall)/;

/** A key as a file has it, with the axis of a place, and no step of a path. */
const KEY =
  /(?<![\w.-])(?:at_m\.([xyz])|([a-z]+(?:_[a-z]+)*)_(?:mm2?|m[23]?|kg|deg|l))(?!\w|[.-]\w)/g;

/** The keys in a sentence as the fields of the page are called: "side height" of side_height_m. */
const withKeysInWords = (sentence: string): string =>
  sentence.replace(KEY, (_, axis?: string, key?: string) => axis ?? keyWords(key ?? ''));

/** A sentence with its quantities in the units and with the decimal sign that are chosen. */
export function reworded(given: string): string {
  const { units, decimal } = writing();
  const sentence = withKeysInWords(given);
  if (units === 'metric' && decimal === '.') return withNames(withMinus(sentence));
  const written: string[] = [];
  // what is written is put aside, so that it is not read again
  const aside = (words: string) => `\u0000q${written.push(words) - 1}q\u0000`;
  const measured = sentence.replace(
    MEASURED,
    (whole, first: string, more: string, unit: string, at: number) =>
      isThickness(unit, sentence.slice(at + whole.length))
        ? whole
        : aside(rowWords(first, more, unit.replace(' per ', '/').replace(/^m·/, 'm '))),
  );
  const all =
    decimal === '.' ? measured : measured.replace(OTHER, (text) => aside(plainWords(text)));
  return withNames(withMinus(all)).replace(
    /\0q(\d+)q\0/g,
    (_, i: string) => written[Number(i)] ?? '',
  );
}

/** A hyphen before a number is a minus: "margin −8.0 sd". */
const withMinus = (words: string): string => words.replace(/(?<=[ (])-(?=\d)/g, '−');

/** Steel is named by its millimetres. */
const isThickness = (unit: string, rest: string) =>
  writing().units !== 'metric' && unit === 'mm' && STEEL.test(rest);

/** Numbers of one unit, the unit behind the last where they carry none of their own. */
function rowWords(first: string, more: string, unit: string): string {
  if (!more) return withSign(first, (value, step) => quantity(value, unit, step));
  const row = `${first}${more}`;
  const step = Math.max(...[...row.matchAll(new RegExp(NUMBER, 'g'))].map(([one]) => stepOf(one)));
  const words = row.replace(new RegExp(SIGNED, 'g'), (one) =>
    withSign(one, (value) => amount(value, unit, step)),
  );
  return words + quantity(1, unit, step).slice(amount(1, unit, step).length);
}

/** A number in words, with the plus that stood before it. */
function withSign(text: string, words: (value: number, step: number) => string): string {
  const value = Number(text.replace('−', '-').replaceAll(',', ''));
  return (text.startsWith('+') && value > 0 ? '+' : '') + words(value, stepOf(text));
}

/** What a number was rounded to, by its decimals. */
const stepOf = (text: string): number => 10 ** -(text.split('.')[1]?.length ?? 0);

const plainWords = (text: string): string => withSign(text, (v, step) => amount(v, '', step));
