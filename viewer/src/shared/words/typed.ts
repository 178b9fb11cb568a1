/** What was typed as a length, mass or volume, in any of the units people write. */
import { numberTyped } from './numbers.ts';
import { isMetric } from './units.ts';

/** How a length may be typed, for a sentence that asks for one. */
export const LENGTH_WANTED = '1.25 m or 4′ 1″';

type Kind = 'length' | 'mass' | 'volume' | 'area' | 'angle';

const MM_OF_INCH = 25.4;
const MM_OF_FOOT = 304.8;
const KG_OF_POUND = 0.45359237;
const LITRES_OF_GALLON = 3.785411784;
const LITRES_OF_IMPERIAL_GALLON = 4.54609;

/** Every word for a unit: its kind, and how many millimetres, kilograms, litres or mm² it is. */
const WORDS: Readonly<Record<string, readonly [Kind, number]>> = {
  mm: ['length', 1],
  cm: ['length', 10],
  m: ['length', 1000],
  in: ['length', MM_OF_INCH],
  inch: ['length', MM_OF_INCH],
  inches: ['length', MM_OF_INCH],
  ft: ['length', MM_OF_FOOT],
  foot: ['length', MM_OF_FOOT],
  feet: ['length', MM_OF_FOOT],
  kg: ['mass', 1],
  g: ['mass', 0.001],
  t: ['mass', 1000],
  lb: ['mass', KG_OF_POUND],
  lbs: ['mass', KG_OF_POUND],
  oz: ['mass', KG_OF_POUND / 16],
  l: ['volume', 1],
  litre: ['volume', 1],
  litres: ['volume', 1],
  ml: ['volume', 0.001],
  'm³': ['volume', 1000],
  gal: ['volume', LITRES_OF_GALLON],
  'us gal': ['volume', LITRES_OF_GALLON],
  'imp gal': ['volume', LITRES_OF_IMPERIAL_GALLON],
  'm²': ['area', 1e6],
  'cm²': ['area', 100],
  'mm²': ['area', 1],
  'ft²': ['area', MM_OF_FOOT ** 2],
  'in²': ['area', MM_OF_INCH ** 2],
  '°': ['angle', 1],
  deg: ['angle', 1],
};
/** The unit of a bare number where feet and inches are chosen. */
const BARE: Readonly<Record<string, string>> = {
  mm: 'in',
  cm: 'in',
  m: 'ft',
  kg: 'lb',
  l: 'us gal',
  'm²': 'ft²',
  'cm²': 'in²',
};

const FEET_INCHES =
  /^(?:([\d.,]+)\s*(?:'|ft|feet|foot))?[\s-]*(?:([\d.,]+)(?!\d*\s*\/)[\s-]*)?(?:(\d+)\s*\/\s*(\d+))?\s*(?:"|in|inch|inches)?$/;
const OFFSET = /^(\d+)-(\d+)-(\d+)\s*([+-]?)$/;
const SIXTEENTHS = 16;

/** A text as a number of `unit`; NaN where it is none, of another kind, or reads two ways. */
export function quantityTyped(entry: string, unit: string): number {
  const plain = inPlainSigns(entry);
  const sign = plain.startsWith('-') ? -1 : 1;
  const size = plain.replace(/^[-+]\s*/, '');
  const own = WORDS[unit];
  const mm = own?.[0] === 'length' ? (offsetIn(size) ?? inchesIn(size, unit)) : undefined;
  const value = mm === undefined ? withWord(size, unit) : mm / (own?.[1] ?? 1);
  return Number((sign * value).toPrecision(15));
}

/** Feet, inches, eighths and a sixteenth more or less [mm]. */
function offsetIn(text: string): number | undefined {
  const found = OFFSET.exec(text);
  if (!found) return undefined;
  const [feet = 0, inches = 0, eighths = 0] = found.slice(1, 4).map(Number);
  if (inches > 11 || eighths > 7) return NaN;
  const more = { '+': 1, '-': -1 }[found[4] ?? ''] ?? 0;
  return ((feet * 12 + inches) * SIXTEENTHS + 2 * eighths + more) * (MM_OF_INCH / SIXTEENTHS);
}

/** Feet and inches with a mark, or a fraction where inches are typed [mm]; undefined for others. */
function inchesIn(text: string, unit: string): number | undefined {
  const isMarked = /['"]/.test(text) || /\d\s*(ft|feet|foot|in|inch|inches)\b/.test(text);
  const isFraction = !isMetric() && unit !== 'm' && text.includes('/');
  const found = isMarked || isFraction ? FEET_INCHES.exec(text) : null;
  if (!found) return undefined;
  const [, feet, inches, top, bottom] = found;
  const whole = (feet ? numberTyped(feet) * 12 : 0) + (inches ? numberTyped(inches) : 0);
  return (whole + (top ? Number(top) / Number(bottom) : 0)) * MM_OF_INCH;
}

/** A number with a unit of its own, or in the unit of its field. */
function withWord(text: string, unit: string): number {
  const [, digits = '', given = ''] = /^([-+\d.,]*)\s*([a-z°%].*)?$/.exec(text) ?? [];
  const bare = isMetric() ? unit : (BARE[unit] ?? unit);
  const word = given || bare;
  if (word === unit) return numberTyped(digits);
  const [to, from] = [WORDS[unit], WORDS[word]];
  return to && from && to[0] === from[0] ? (numberTyped(digits) * from[1]) / to[1] : NaN;
}

const BARE_NUMBER = /^[-+−]?[\d.,]+( \d+\/\d+)?$/;

/** A cell of a column, with the unit that its heading names where it has none of its own. */
export function underHeading(cell: string, heading: string, unit: string): string {
  if (!BARE_NUMBER.test(cell)) return cell;
  const kind = WORDS[unit]?.[0];
  const words = inPlainSigns(heading).split(/[\s,()[\]]+/);
  const given = words.findLast(
    (word) => kind && Object.hasOwn(WORDS, word) && WORDS[word]?.[0] === kind,
  );
  return given ? `${cell} ${given}` : cell;
}

const VULGAR = /([¼-¾⅐-⅞])/g;

/** Lower case, plain primes, minus and fractions. */
const inPlainSigns = (entry: string): string =>
  entry
    .replace(/[″”]|''|′′/g, '"')
    .replace(/[′’]/g, "'")
    .replace(VULGAR, ' $1')
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[−–]/g, '-')
    .replace(/⁄/g, '/')
    .replace(/([a-z])([23])$/, (_, letter, power) => letter + (power === '2' ? '²' : '³'))
    .replace(/us\.? ?gal(lons?)?$/, 'us gal')
    .replace(/imp\.? ?gal(lons?)?$/, 'imp gal')
    .replace(/\s+/g, ' ')
    .trim();
