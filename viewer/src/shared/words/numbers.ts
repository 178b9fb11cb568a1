/** Numbers as people read them: in their unit, rounded to their uncertainty, the sign in words. */
import { isMetric, shownStep, THICKNESS_UNIT, unitAfter, type Written, written } from './units.ts';
import { writing } from './writing.ts';

/** The step a value is shown in: one digit of its uncertainty (two where it begins with 1). */
export function stepFor(plusMinus: number, finest: number): number {
  if (!(plusMinus > 0)) return finest;
  const power = 10 ** Math.floor(Math.log10(plusMinus));
  return Math.max(plusMinus / power < 2 ? power / 10 : power, finest);
}

/** GM is shown to the centimetre wherever it stands: one figure has one rounding. */
export const GM_STEP = 0.01;

/** The step of a GM: finer next to nothing, where its sign decides. */
export const gmStep = (gm: number): number => (Math.abs(gm) < GM_STEP / 2 ? 0.001 : GM_STEP);

/** Boats' masses are spoken of in hundreds of kilograms at the coarsest. */
const COARSEST_KG = 100;

/** The step of a mass: by its uncertainty, but not so coarse that what was typed is lost. */
export const massStep = (plusMinus: number, finest = 1): number =>
  Math.min(stepFor(plusMinus, finest), COARSEST_KG);

/** The step, made finer until what is rounded to it does not look like a limit that it misses. */
export function decidingStep(
  value: number,
  limits: readonly number[],
  step: number,
  unit = '',
): number {
  const hides = limits.some((limit) => {
    const apart = Math.abs(limit - value);
    return apart > 1e-6 && amount(limit, unit, step) === amount(value, unit, step);
  });
  return hides ? decidingStep(value, limits, step / 10, unit) : step;
}

const decimalsOf = (step: number) => Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));

/** What parts thousands where the comma is the decimal sign. */
const THIN_SPACE = '\u202f';

/** A value rounded to a step, thousands parted, a true minus sign, never minus zero. */
export function number(value: number, step: number): string {
  const text = rounded(Math.abs(value), step);
  const [whole = '', part] = text.split('.');
  const { decimal } = writing();
  const parted = whole.replace(/\B(?=(\d{3})+$)/g, decimal === '.' ? ',' : THIN_SPACE);
  const size = parted + (part ? decimal + part : '');
  return value < 0 && Number(text) !== 0 ? `−${size}` : size;
}

/** Of steps that are a digit's, the decimal nearest to the value itself, as Python finds it. */
function rounded(size: number, step: number): string {
  const decimals = decimalsOf(step);
  const nearest = 10 ** -decimals === step ? size : Math.round(size / step) * step;
  return nearest.toFixed(decimals);
}

/** As `number`, with a plus sign where there is something to add. */
export function signed(value: number, step: number): string {
  const text = number(value, step);
  return value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** A value of a unit without its sign, in the unit it is written in, rounded to a step of its own. */
export function amount(value: number, unit: string, step: number): string {
  const shown = written(value, unit, step);
  if (shown.as === 'decimal') return number(shown.value, shown.step);
  const text = inFractions(Math.abs(shown.value), shown);
  return value < 0 && /[1-9]/.test(text) ? `−${text}` : text;
}

/** The same with the sign of its unit: "172 mm", "6 3/4 in", "5′ 10 3/16″". */
export function quantity(value: number, unit: string, step: number): string {
  return amount(value, unit, step) + unitFor(unit, step);
}

/** As `amount`, with a plus sign where there is something to add. */
export function signedAmount(value: number, unit: string, step: number): string {
  const text = amount(value, unit, step);
  return value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** As `quantity`, with a plus sign where there is something to add. */
export const signedQuantity = (value: number, unit: string, step: number): string =>
  signedAmount(value, unit, step) + unitFor(unit, step);

/** A value with its plus/minus, both in one unit: "172 ± 4 mm". */
export const withSpread = (value: number, sd: number, unit: string, step: number): string =>
  `${amount(value, unit, step)} ± ${quantity(sd, unit, step)}`;

/** The unit behind a number of this step; feet and inches carry their own. */
const unitFor = (unit: string, step: number): string =>
  written(0, unit, step).as === 'feet and inches' ? '' : unitAfter(unit);

/** A value with its unit as it stands in a document: every digit of six, none more. */
export function quantityInFull(value: number, unit: string): string {
  const own = written(value, unit, 0);
  const text = String(Number(own.value.toPrecision(6)));
  return text.replace('-', '−').replace('.', writing().decimal) + unitAfter(unit);
}

/** A thickness of steel or a scantling: millimetres, as it is ordered, with inches beside them. */
export function thickness(mm: number, step = mm % 1 ? 0.1 : 1): string {
  return number(mm, step) + inchesBeside(mm);
}

/** The same with its unit. */
export const thicknessWithUnit = (mm: number): string =>
  `${number(mm, mm % 1 ? 0.1 : 1)} ${THICKNESS_UNIT}${inchesBeside(mm)}`;

/** Thicknesses in inches are shown to a thousandth. */
const inchesBeside = (mm: number): string => (isMetric() ? '' : ` (${quantity(mm, 'mm', 0.0254)})`);

/** A number without the noughts at the end of its decimals. */
export function trimmed(text: string): string {
  return text.includes(writing().decimal) ? text.replace(/[.,]?0+$/, '') : text;
}

const SIXTEENTHS = 16;
const INCHES = 12;

/** Inches, or feet and inches, with a fraction in its lowest terms. */
function inFractions(inches: number, { step, as }: Written): string {
  const sixteenths = Math.round(inches / step) * step * SIXTEENTHS;
  const whole = Math.floor(sixteenths / SIXTEENTHS);
  const part = sixteenths % SIXTEENTHS;
  const lowest = [2, 4, 8].find((n) => part % (SIXTEENTHS / n) === 0) ?? SIXTEENTHS;
  const fraction = part === 0 ? '' : `${(part * lowest) / SIXTEENTHS}/${lowest}`;
  if (as === 'inches') return inchWords(whole, fraction);
  const feet = Math.floor(whole / INCHES);
  const rest = inchWords(whole % INCHES, fraction);
  if (feet === 0) return `${rest}″`;
  return rest === '0' ? `${feet}′` : `${feet}′ ${rest}″`;
}

const inchWords = (whole: number, fraction: string): string =>
  [whole > 0 || !fraction ? String(whole) : '', fraction].filter(Boolean).join(' ');

/** Whether a value of a unit is shown as nothing. */
export const isNothing = (value: number, unit: string, step: number): boolean =>
  Math.abs(value) < shownStep(unit, step) / 2;

/** Trim in words; positive is by the stern. */
export function trimWords(mm: number, step = 1): string {
  if (isNothing(mm, 'mm', step)) return 'level';
  return `${quantity(Math.abs(mm), 'mm', step)} by the ${mm > 0 ? 'stern' : 'bow'}`;
}

/** What a weight does to the trim, in words. */
export const trimEffectWords = (mm: number): string =>
  isNothing(mm, 'mm', 1) ? 'no change' : trimWords(mm);

/** Heel or list in words; positive is to starboard. */
export function heelWords(deg: number, step = 0.1): string {
  if (isNothing(deg, '°', step)) return 'upright';
  return `${quantity(Math.abs(deg), '°', step)} to ${deg > 0 ? 'starboard' : 'port'}`;
}

/** A change of immersion in words; positive is down. */
export function sinkWords(mm: number, step = 1): string {
  if (isNothing(mm, 'mm', step)) return 'unchanged';
  return `${quantity(Math.abs(mm), 'mm', step)} ${mm > 0 ? 'deeper' : 'higher'}`;
}

/** A mass; whole kilograms, tenths below ten. */
export const kilograms = (kg: number, plusMinus = 0): string =>
  quantity(kg, 'kg', massStep(plusMinus, Math.abs(kg) < 10 ? 0.1 : 1));

/** A place in words: aft of the forward perpendicular, to a side, above the waterline. */
export function placeWords([x, y, z]: readonly [number, number, number]): string {
  const far = (m: number) => quantity(Math.abs(m), 'm', 0.01);
  const along = `${far(x)} ${x < 0 ? 'forward' : 'aft'}`;
  const across = isNothing(y, 'm', 0.01) ? '' : `, ${far(y)} to ${y > 0 ? 'starboard' : 'port'}`;
  return `${along}${across}, ${far(z)} ${z < 0 ? 'down' : 'up'}`;
}

/** 1,200 may be twelve hundred or one and a fifth. */
const TWO_WAYS = {
  '.': /^[-+]?[1-9]\d{0,2}(,\d{3})+$/,
  ',': /^[-+]?[1-9]\d{0,2}(\.\d{3})+$/,
} as const;

/** A number as typed, with a comma or a point; NaN where it is none, too large or reads two ways. */
export function numberTyped(entry: string): number {
  const plain = entry.trim().replace('−', '-');
  if (TWO_WAYS[writing().decimal].test(plain)) return NaN;
  if (!/^[-+]?(\d+[.,]?\d*|[.,]\d+)$/.test(plain)) return NaN;
  const value = Number(plain.replace(',', '.'));
  return Number.isFinite(value) ? value : NaN;
}

/** What to type instead of what `numberTyped` does not read. */
export const NUMBER_WANTED = 'digits, no comma or point for thousands';

/** How large a file is: "340 kB", "2.4 MB". */
export const bytesWords = (bytes: number): string =>
  bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${number(bytes / 1e6, 0.1)} MB`;
