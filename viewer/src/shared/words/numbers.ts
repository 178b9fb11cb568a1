/** Numbers as people read them: rounded to their uncertainty, with the sign in words. */

/** The step a value is shown in: one digit of its uncertainty (two where it begins with 1). */
export function stepFor(plusMinus: number, finest: number): number {
  if (!(plusMinus > 0)) return finest;
  const power = 10 ** Math.floor(Math.log10(plusMinus));
  return Math.max(plusMinus / power < 2 ? power / 10 : power, finest);
}

/** The step, made finer until what is rounded to it does not look like a limit that it misses. */
export function decidingStep(value: number, limits: readonly number[], step: number): number {
  const hides = limits.some((limit) => {
    const apart = Math.abs(limit - value);
    return apart > 1e-6 && number(limit, step) === number(value, step);
  });
  return hides ? decidingStep(value, limits, step / 10) : step;
}

const decimalsOf = (step: number) => Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));

/** A value rounded to a step, thousands parted by commas, a true minus sign, never minus zero. */
export function number(value: number, step: number): string {
  const text = rounded(Math.abs(value), step);
  const [whole = '', part] = text.split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ',') + (part ? `.${part}` : '');
  return value < 0 && Number(text) !== 0 ? `−${grouped}` : grouped;
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

const isNothing = (value: number, step: number) => Math.abs(value) < step / 2;

/** Trim in words; positive is by the stern. */
export function trimWords(mm: number, step = 1): string {
  if (isNothing(mm, step)) return 'level';
  return `${number(Math.abs(mm), step)} mm by the ${mm > 0 ? 'stern' : 'bow'}`;
}

/** Heel or list in words; positive is to starboard. */
export function heelWords(deg: number, step = 0.1): string {
  if (isNothing(deg, step)) return 'upright';
  return `${number(Math.abs(deg), step)}° to ${deg > 0 ? 'starboard' : 'port'}`;
}

/** A change of immersion in words; positive is down. */
export function sinkWords(mm: number, step = 1): string {
  if (isNothing(mm, step)) return 'unchanged';
  return `${number(Math.abs(mm), step)} mm ${mm > 0 ? 'deeper' : 'higher'}`;
}

/** Kilograms; whole ones, tenths below ten. */
export function kilograms(kg: number, plusMinus = 0): string {
  return `${number(kg, stepFor(plusMinus, Math.abs(kg) < 10 ? 0.1 : 1))} kg`;
}

/** A place in words: metres aft of the forward perpendicular, to a side, above the waterline. */
export function placeWords([x, y, z]: readonly [number, number, number]): string {
  const along = x < 0 ? `${number(-x, 0.01)} m forward` : `${number(x, 0.01)} m aft`;
  const across = isNothing(y, 0.01)
    ? ''
    : `, ${number(Math.abs(y), 0.01)} m to ${y > 0 ? 'starboard' : 'port'}`;
  const up = z < 0 ? `${number(-z, 0.01)} m down` : `${number(z, 0.01)} m up`;
  return `${along}${across}, ${up}`;
}

/** 1,200 may be twelve hundred or one and a fifth. */
const TWO_WAYS = /^[-+]?[1-9]\d{0,2}(,\d{3})+$/;

/** A number as typed, with a comma or a point; NaN where it is none, too large or reads two ways. */
export function numberTyped(entry: string): number {
  const plain = entry.trim().replace('−', '-');
  if (TWO_WAYS.test(plain)) return NaN;
  if (!/^[-+]?(\d+[.,]?\d*|[.,]\d+)$/.test(plain)) return NaN;
  const value = Number(plain.replace(',', '.'));
  return Number.isFinite(value) ? value : NaN;
}

/** What to type instead of what `numberTyped` does not read. */
export const NUMBER_WANTED = 'digits, no comma or point for thousands';

/** How large a file is: "340 kB", "2.4 MB". */
export const bytesWords = (bytes: number): string =>
  bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${number(bytes / 1e6, 0.1)} MB`;
