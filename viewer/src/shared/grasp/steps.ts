/** How far a hand or a key moves what is grasped in a drawing: in steps, within its range. */
import type { FlatPoint } from '../boat/points.ts';
import type { NumberField } from '../fields/forms.ts';
import { isMetric } from '../words/units.ts';

/** One number that is grasped: how it is written, how far it goes, which way it lies on the page. */
export interface GraspAxis {
  readonly field: NumberField;
  readonly low: number;
  readonly high: number;
  /** Pixels to the right and down for each metre more. */
  readonly way: FlatPoint;
}

const INCH_M = 0.0254;
const STEPS_OF_COARSE = 10;
const EIGHT = 8; // half inches in four inches

/** What a key or a dragging hand steps by [m]: 10 mm, or half an inch; with Shift 100 mm, or 4 inches. */
export const graspStep = (coarse: boolean): number => {
  const [fine, times] = isMetric() ? [0.01, STEPS_OF_COARSE] : [INCH_M / 2, EIGHT];
  return coarse ? fine * times : fine;
};

const dot = (a: FlatPoint, b: FlatPoint) => a[0] * b[0] + a[1] * b[1];

/** How far each axis goes when the hand has moved by so many pixels [m]. */
const alongEach = (axes: readonly GraspAxis[], by: FlatPoint): readonly number[] =>
  axes.map(({ way }) => (dot(way, way) > 0 ? dot(by, way) / dot(way, way) : 0));

/** Values after a hand has moved them: on whole steps, unmoved ones as they were. */
export const dragged = (
  axes: readonly GraspAxis[],
  begun: readonly number[],
  by: FlatPoint,
  step: number,
): readonly number[] => {
  const along = alongEach(axes, by);
  return axes.map((axis, i) => {
    const [from = 0, far = 0] = [begun[i], along[i]];
    if (Math.abs(far) < step / 2) return from;
    return within(axis, Math.round((from + far) / step) * step, from);
  });
};

/** A value held within its range, which holds what it was. */
export const within = ({ low, high }: GraspAxis, value: number, was: number): number =>
  tenths(Math.min(Math.max(value, Math.min(low, was)), Math.max(high, was)));

/** To a tenth of a millimetre. */
const tenths = (metres: number) => Math.round(metres * 10000) / 10000;

/** Directions on the page: right, down. */
const KEYS: Readonly<Record<string, FlatPoint>> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
const PAGES: Readonly<Record<string, number>> = { PageUp: 1, PageDown: -1 };
const SLANT = 0.5;

/** Values after a key; undefined for another key. A key across the only axis goes up with right and up. */
export function stepped(
  axes: readonly GraspAxis[],
  values: readonly number[],
  { key, shiftKey }: Pick<KeyboardEvent, 'key' | 'shiftKey'>,
): readonly number[] | undefined {
  const ways = waysOf(axes, key);
  if (!ways) return undefined;
  const step = graspStep(shiftKey || key in PAGES);
  return axes.map((axis, i) => {
    const value = values[i] ?? 0;
    const way = ways[i] ?? 0;
    return way === 0 ? value : within(axis, value + way * step, value);
  });
}

/** Which way a key takes each axis: 1, -1 or 0. */
function waysOf(axes: readonly GraspAxis[], key: string): readonly number[] | undefined {
  const page = PAGES[key];
  if (page !== undefined) return axes.length === 1 ? [page] : undefined;
  const to = KEYS[key];
  if (!to) return undefined;
  const ways = axes.map(({ way }) => {
    const share = dot(way, to) / (Math.hypot(...way) || 1);
    return Math.abs(share) > SLANT ? Math.sign(share) : 0;
  });
  if (axes.length === 1 && ways[0] === 0) return [to[0] - to[1]];
  return ways;
}

/** The first of its axes that is at an end of its range: a hand cannot take it further. */
export const atItsEnd = (
  axes: readonly GraspAxis[],
  values: readonly number[],
): GraspAxis | undefined =>
  axes.find(({ low, high }, i) => {
    const value = values[i] ?? NaN;
    return value <= low + 1e-9 || value >= high - 1e-9;
  });

/** Those that lie at least so many pixels from every one before them. */
export function apart<T extends { readonly spot: FlatPoint }>(
  all: readonly T[],
  least: number,
): readonly T[] {
  const kept: T[] = [];
  for (const one of all) {
    const near = kept.some(
      ({ spot }) => Math.hypot(spot[0] - one.spot[0], spot[1] - one.spot[1]) < least,
    );
    if (!near) kept.push(one);
  }
  return kept;
}
