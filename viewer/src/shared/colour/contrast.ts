/** Contrast of two colours, as the Web Content Accessibility Guidelines 2.2 define it. */

/** Red, green and blue, 0 to 1. */
type Channels = readonly [number, number, number];

/** What words need against what they stand on, and what a fill needs that says something. */
export const TEXT_CONTRAST = 4.5;
export const FILL_CONTRAST = 3;

/** A colour as style sheets (`#1c2630`, `#fff`) or browsers (`rgb(28, 38, 48)`) write it. */
function channelsOf(colour: string): Channels {
  const long = colour.replace(/^#(.)(.)(.)$/, '#$1$1$2$2$3$3');
  const numbers = /^#[0-9a-f]{6}$/i.test(long)
    ? [1, 3, 5].map((i) => Number.parseInt(long.slice(i, i + 2), 16))
    : (/^rgba?\(([^)/]*)/.exec(long)?.[1]?.match(/[\d.]+/g) ?? []).map(Number);
  const [red = 0, green = 0, blue = 0] = numbers.map((n) => n / 255);
  return [red, green, blue];
}

const linear = (encoded: number) =>
  encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;

/** Relative luminance, 0 for black to 1 for white: what is left of a colour in grey. */
export function luminance(colour: string): number {
  const [red, green, blue] = channelsOf(colour);
  return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
}

const ratio = (a: number, b: number) => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);

/** Contrast of two colours, 1 to 21. */
export const contrast = (a: string, b: string): number => ratio(luminance(a), luminance(b));
