/** One view of a drawing as it is traced. */
import type { PictureView } from '../../contract.ts';
import type { FlatPoint } from '../../shared/boat/points.ts';
import { keyOf } from '../../shared/words/plain-words.ts';
import { LENGTH_WANTED, quantityTyped } from '../../shared/words/typed.ts';
import type { PickedPoints, TracePicture } from './picture-trace.tsx';

export type ViewKind = PictureView['view'];

export const VIEWS: Readonly<Record<ViewKind, { words: string; axes: readonly [string, string] }>> =
  {
    profile: { words: 'profile, from the side', axes: ['x, aft', 'z, up'] },
    plan: { words: 'plan, from above', axes: ['x, aft', 'y, out'] },
    body: { words: 'body plan, end on', axes: ['y, out', 'z, up'] },
  };

interface TracedLine {
  readonly line: string;
  readonly points: readonly FlatPoint[];
  /** Of a section of a body plan, as typed. */
  readonly station: string;
}

export interface ViewTrace {
  readonly kind: ViewKind;
  readonly picture: TracePicture;
  readonly isFlat: boolean;
  readonly marks: readonly FlatPoint[];
  /** Where each mark is, as typed. */
  readonly places: readonly (readonly [string, string])[];
  readonly lines: readonly TracedLine[];
}

export const newTrace = (kind: ViewKind, picture: TracePicture, isFlat: boolean): ViewTrace => ({
  kind,
  picture,
  isFlat,
  marks: [],
  places: [],
  lines: [],
});

/** What is picked on its picture, the marks first. */
export const pickedOf = ({ marks, lines }: ViewTrace): readonly PickedPoints[] => [
  { name: 'mark', points: marks, isLine: false },
  ...lines.map(({ line, points }) => ({ name: line, points, isLine: true })),
];

/** The trace with other points of the marks (0) or of a line. */
export function withPicked(trace: ViewTrace, i: number, points: readonly FlatPoint[]): ViewTrace {
  if (i === 0) {
    const places = points.map((_, j) => trace.places[j] ?? (['', ''] as const));
    return { ...trace, marks: points, places };
  }
  const line = trace.lines[i - 1];
  return line ? { ...trace, lines: trace.lines.with(i - 1, { ...line, points }) } : trace;
}

/** As it is sent, or why it cannot be. */
export function viewOf(trace: ViewTrace): {
  readonly view?: PictureView;
  readonly trouble: string;
} {
  const { words } = VIEWS[trace.kind];
  const marks = trace.marks.map((at_px, i) => {
    const [a = '', b = ''] = trace.places[i] ?? [];
    return { at_px, place_m: [quantityTyped(a, 'm'), quantityTyped(b, 'm')] as const };
  });
  const lost = marks.findIndex(({ place_m }) => !place_m.every(Number.isFinite));
  if (lost >= 0)
    return { trouble: `Type where mark ${lost + 1} of the ${words} is, such as ${LENGTH_WANTED}.` };
  const curves = trace.lines
    .filter(({ points }) => points.length > 0)
    .map(({ line, points, station }) => ({
      line: keyOf(line, 'line') || 'line',
      kind: null,
      station_x_m: station.trim() === '' ? null : quantityTyped(station, 'm'),
      points_px: points,
    }));
  if (curves.some((one) => one.station_x_m !== null && !Number.isFinite(one.station_x_m)))
    return {
      trouble: `Type the station of each section of the ${words}, such as ${LENGTH_WANTED}; aft is positive.`,
    };
  return { view: { view: trace.kind, is_flat: trace.isFlat, marks, curves }, trouble: '' };
}
