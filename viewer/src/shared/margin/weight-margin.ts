/** Weight still allowed: limits of her centre of gravity over displacement, and where she is. */

import type { LimitLineResult, WeightMarginResult } from '../../contract.ts';
import type { FlatPoint } from '../boat/points.ts';
import { timesOf } from '../words/units.ts';

export interface Chart {
  readonly width: number;
  readonly height: number;
  /** Left and right edge [px]. */
  readonly edges: readonly [number, number];
  readonly x: (kg: number) => number;
  readonly y: (metres: number) => number;
  /** Where it is ruled, upright and level. */
  readonly masses: readonly number[];
  readonly heights: readonly number[];
}

const [LEFT, RIGHT, TOP, BOTTOM] = [46, 16, 14, 34];
const MASS_STEPS = [50, 100, 200, 500, 1000, 2000, 5000, 10000];
const HEIGHT_STEPS = [0.02, 0.05, 0.1, 0.2, 0.5, 1, 2];
const MOST = 7;
/** Width below which a drawing has room for few numbers [px]. */
const NARROW_DRAWING = 480;

/** A chart with room for every line and dot. */
export function chartOf({ lines, dots }: WeightMarginResult, width: number, height: number): Chart {
  const masses = lines.flatMap((line) => line.displacement_kg);
  const heights = [...lines.flatMap((line) => line.vcg_m), ...dots.map((d) => d.vcg_fluid_m)];
  const [light, heavy] = [Math.min(...masses), Math.max(...masses)];
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const margin = Math.max(0.02, (high - low) * 0.06);
  const [floor, top] = [low - margin, high + margin];
  return {
    width,
    height,
    edges: [LEFT, width - RIGHT],
    x: (kg) => LEFT + ((kg - light) / Math.max(1, heavy - light)) * (width - LEFT - RIGHT),
    y: (z) => height - BOTTOM - ((z - floor) / (top - floor)) * (height - TOP - BOTTOM),
    masses: ruled([light, heavy], 'kg', MASS_STEPS, width < NARROW_DRAWING ? 3 : MOST),
    heights: ruled([floor, top], 'm', HEIGHT_STEPS, MOST),
  };
}

function ruled([from, to]: FlatPoint, unit: string, steps: readonly number[], most: number) {
  const own = steps.map((s) => s / timesOf(unit));
  const step = own.find((s) => (to - from) / s <= most) ?? to - from;
  const first = Math.ceil(from / step);
  const count = Math.max(0, Math.floor(to / step) - first + 1);
  return Array.from({ length: count }, (_, i) => (first + i) * step);
}

/** Path data of a limit. */
export const limitPath = ({ x, y }: Chart, line: LimitLineResult): string =>
  `M${line.displacement_kg.map((kg, i) => `${x(kg).toFixed(1)},${y(line.vcg_m[i] ?? NaN).toFixed(1)}`).join('L')}`;
