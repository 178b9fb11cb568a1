/** What parts and changes may be coloured by: one effect each, with words for both its ends. */
import type { Effect } from '../../contract.ts';
import { isNothing, quantity } from '../words/numbers.ts';

interface Measure {
  readonly words: string;
  /** Null where an older revision does not tell it, or there is no mark. */
  readonly of: (effect: Effect) => number | null;
  readonly unit: string;
  /** What it is shown in, and below half of which it is nothing. */
  readonly step: number;
  /** Words for a value below zero, for zero, for one above. */
  readonly less: string;
  readonly none: string;
  readonly more: string;
}

const mm = { unit: 'mm', step: 1 } as const;

export const MEASURES = {
  trim: {
    ...mm,
    words: 'effect on trim',
    of: ({ trim_mm }) => trim_mm,
    less: 'by the bow',
    none: 'trim unchanged',
    more: 'by the stern',
  },
  list: {
    words: 'effect on list',
    of: ({ heel_deg }) => heel_deg,
    unit: '°',
    step: 0.1,
    less: 'to port',
    none: 'list unchanged',
    more: 'to starboard',
  },
  freeboard: {
    ...mm,
    words: 'effect on freeboard aft',
    of: ({ freeboard_aft_mm }) => freeboard_aft_mm,
    less: 'less freeboard aft',
    none: 'freeboard aft unchanged',
    more: 'more freeboard aft',
  },
  vcg: {
    ...mm,
    words: 'effect on VCG',
    of: ({ vcg_mm }) => vcg_mm,
    less: 'lower VCG',
    none: 'VCG unchanged',
    more: 'higher VCG',
  },
  gm: {
    ...mm,
    words: 'effect on GM upright',
    of: ({ gm_mm }) => gm_mm,
    less: 'less GM',
    none: 'GM unchanged',
    more: 'more GM',
  },
} as const satisfies Record<string, Measure>;

export type MeasureName = keyof typeof MEASURES;
export const MEASURE_NAMES = ['trim', 'list', 'freeboard', 'vcg', 'gm'] as const;

/** A value with its side in words. */
export function measureWords(measure: Measure, value: number | null): string {
  if (value === null) return 'not known here';
  if (isNothing(value, measure.unit, measure.step)) return measure.none;
  const size = quantity(Math.abs(value), measure.unit, measure.step);
  return `${size} ${value < 0 ? measure.less : measure.more}`;
}
