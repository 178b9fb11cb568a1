/** Effect to colour: orange by the stern, grey level, blue by the bow; even steps in OKLab. */

type Lab = readonly [number, number, number];
const RADIANS = Math.PI / 180;
const lch = (l: number, c: number, h: number): Lab => [
  l,
  c * Math.cos(h * RADIANS),
  c * Math.sin(h * RADIANS),
];
const STERN = lch(0.66, 0.15, 55);
const LEVEL = lch(0.88, 0.005, 90);
const BOW = lch(0.55, 0.14, 255);
const LESS = lch(0.56, 0.14, 320);
const MORE = lch(0.63, 0.13, 155);
const LIGHT = lch(0.9, 0.008, 90);
const HEAVY = lch(0.42, 0.012, 90);

/** Below this an effect is drawn as level [mm]. */
export const DEAD_BAND_MM = 0.5;

function hex([l, a, b]: Lab): string {
  const cubes = [
    (l + 0.3963377774 * a + 0.2158037573 * b) ** 3,
    (l - 0.1055613458 * a - 0.0638541728 * b) ** 3,
    (l - 0.0894841775 * a - 1.291485548 * b) ** 3,
  ] as const;
  const linear = [
    4.0767416621 * cubes[0] - 3.3077115913 * cubes[1] + 0.2309699292 * cubes[2],
    -1.2684380046 * cubes[0] + 2.6097574011 * cubes[1] - 0.3413193965 * cubes[2],
    -0.0041960863 * cubes[0] - 0.7034186147 * cubes[1] + 1.707614701 * cubes[2],
  ];
  const bytes = linear.map((x) => {
    const encoded = x <= 0.0031308 ? 12.92 * x : 1.055 * x ** (1 / 2.4) - 0.055;
    return Math.round(Math.min(1, Math.max(0, encoded)) * 255);
  });
  return `#${bytes.map((x) => x.toString(16).padStart(2, '0')).join('')}`;
}

const between = (from: Lab, to: Lab, t: number): Lab => [
  from[0] + (to[0] - from[0]) * t,
  from[1] + (to[1] - from[1]) * t,
  from[2] + (to[2] - from[2]) * t,
];
const clamped = (t: number) => Math.min(1, Math.max(0, t));

/** Colour of an effect on trim; `top` is the end of the symmetric scale [mm]. */
export function trimColour(mm: number, top: number): string {
  if (Math.abs(mm) < DEAD_BAND_MM) return hex(LEVEL);
  return hex(between(LEVEL, mm > 0 ? STERN : BOW, clamped(Math.abs(mm) / top)));
}

/** Colour of another effect, purple for less and green for more: trim alone has trim's hues. */
export function otherColour(value: number, top: number, deadBand: number): string {
  if (Math.abs(value) < deadBand) return hex(LEVEL);
  return hex(between(LEVEL, value > 0 ? MORE : LESS, clamped(Math.abs(value) / top)));
}

/** Colour of a mass: the heavier the darker, without hue. */
export const massColour = (kg: number, top: number): string =>
  hex(between(LIGHT, HEAVY, clamped(kg / top)));

type TrimEnd = 'bow' | 'level' | 'stern';

/** The end of the boat that an effect on trim puts down. */
export function trimEndOf(mm: number): TrimEnd {
  if (Math.abs(mm) < DEAD_BAND_MM) return 'level';
  return mm > 0 ? 'stern' : 'bow';
}

/** A round number at or above all magnitudes: the end of one scale for cards, bars and 3D. */
export function scaleTop(values: readonly number[], least = 1): number {
  const most = Math.max(least, ...values.map(Math.abs));
  const power = 10 ** Math.floor(Math.log10(most) + 1e-9);
  const steps = [1, 1.5, 2, 3, 4, 5, 6, 8, 10];
  return power * (steps.find((s) => s * power >= most - 1e-9) ?? 10);
}
