/**
 * The units of answers and forms: their signs, and what each is in feet, pounds and gallons.
 * The only place that converts; pages name the unit a number is in and leave the rest to this.
 */
import { sizeWords } from './plain-words.ts';
import { writing } from './writing.ts';

/** Exact by definition; see `units.test.ts`. */
const INCH_MM = 25.4;
const FOOT_M = 0.3048;
const POUND_KG = 0.45359237;
const GALLON_L = 3.785411784;
const SIXTEENTHS = 16;

/** Units as the server names them, where people write them otherwise. */
const SIGNS: Readonly<Record<string, string>> = {
  deg: '°',
  percent: '%',
  m2: 'm²',
  m3: 'm³',
  cm2: 'cm²',
  'kg/m3': 'kg/m³',
  'kg/m2': 'kg/m²',
  'm/s2': 'm/s²',
  'kg m': 'kg·m',
  'kg m/cm': 'kg·m/cm',
  litres: 'l',
};

/** What each unit is written in, and how many of these one of it is. */
const IN_FEET: Readonly<Record<string, readonly [unit: string, times: number]>> = {
  m: ['ft', 1 / FOOT_M],
  cm: ['in', 10 / INCH_MM],
  mm: ['in', 1 / INCH_MM],
  'm²': ['ft²', FOOT_M ** -2],
  'cm²': ['in²', (10 / INCH_MM) ** 2],
  'm³': ['ft³', FOOT_M ** -3],
  l: ['US gal', 1 / GALLON_L],
  kg: ['lb', 1 / POUND_KG],
  t: ['lb', 1000 / POUND_KG],
  'kg/cm': ['lb/in', INCH_MM / 10 / POUND_KG],
  kg·m: ['ft·lb', 1 / (POUND_KG * FOOT_M)],
  'kg·m/cm': ['ft·lb/in', INCH_MM / 10 / (POUND_KG * FOOT_M)],
  'kg/m³': ['lb/ft³', FOOT_M ** 3 / POUND_KG],
  'kg/m²': ['lb/ft²', FOOT_M ** 2 / POUND_KG],
  'm/s²': ['ft/s²', 1 / FOOT_M],
  'm rad': ['ft rad', 1 / FOOT_M],
  'm deg': ['ft deg', 1 / FOOT_M],
  'm°': ['ft°', 1 / FOOT_M],
};
/** Lengths: how many millimetres each is, and the step below which it is a decimal: a sixteenth of an inch would hide the difference. */
const LENGTHS: Readonly<Record<string, { readonly mm: number; readonly finest: number }>> = {
  m: { mm: 1000, finest: 0.002 },
  cm: { mm: 10, finest: 0.1 },
  mm: { mm: 1, finest: 1 },
};

/** A number in the unit it is written in. */
export interface Written {
  readonly value: number;
  /** What it is rounded to; of fractions of an inch a whole number of sixteenths. */
  readonly step: number;
  readonly unit: string;
  readonly as: 'decimal' | 'inches' | 'feet and inches';
}

/** Steel is ordered and cut by the millimetre wherever it is bought: common practice, no source. */
export const THICKNESS_UNIT = 'mm';

/** A material or section, named by its millimetres. */
export const materialWords = (material: string): string =>
  `${sizeWords(material)} ${THICKNESS_UNIT}`;

export const isMetric = (): boolean => writing().units === 'metric';

const signOf = (unit: string): string => SIGNS[unit] ?? unit;

/** The sign of the unit that numbers in `unit` are written in. */
export function unitSign(unit: string): string {
  const sign = signOf(unit);
  return isMetric() ? sign : (IN_FEET[sign]?.[0] ?? sign);
}

/** The sign with what parts it from the number before it. */
export function unitAfter(unit: string): string {
  const sign = unitSign(unit);
  return sign === '' || sign === '°' ? sign : ` ${sign}`;
}

/** How many of the unit it is written in one of `unit` is. */
export const timesOf = (unit: string): number =>
  isMetric() ? 1 : (IN_FEET[signOf(unit)]?.[1] ?? 1);

/** A number in `unit`, known to `step`, in the unit it is written in and as finely as it is known. */
export function written(value: number, unit: string, step: number): Written {
  const sign = signOf(unit);
  const other = IN_FEET[sign];
  if (isMetric() || !other) return { value, step, unit: sign, as: 'decimal' };
  const [shown, times] = other;
  const length = LENGTHS[sign];
  if (length && step >= length.finest * (1 - 1e-9)) {
    const inches = length.mm / INCH_MM;
    const as = sign === 'm' ? 'feet and inches' : 'inches';
    return { value: value * inches, step: fractionOf(step * inches), unit: shown, as };
  }
  if (!(step > 0)) return { value: value * times, step, unit: shown, as: 'decimal' };
  const power = Math.floor(Math.log10(step * times) + 1e-6);
  return { value: value * times, step: 10 ** power, unit: shown, as: 'decimal' };
}

/** A whole number of sixteenths that halves an inch, at most an inch, no coarser than a step [in]. */
const fractionOf = (step: number): number =>
  2 ** Math.max(0, Math.min(4, Math.floor(Math.log2(step * SIXTEENTHS) + 1e-9))) / SIXTEENTHS;

/** The step, in `unit`, that what is written is rounded to. */
export function shownStep(unit: string, step: number): number {
  if (isMetric()) return step;
  const { step: own, as } = written(0, unit, step);
  const length = LENGTHS[signOf(unit)];
  return as === 'decimal' || !length ? own / timesOf(unit) : (own * INCH_MM) / length.mm;
}
