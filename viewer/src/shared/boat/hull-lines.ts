/** The measured lines of the hull: as a table, and as sections for the body plan. */
import { at, type Mapping, mapping, text } from './document.ts';
import type { FlatPoint, Point } from './points.ts';

export interface HullLine {
  readonly id: string;
  readonly kind: string;
  readonly points: readonly Point[];
}

const isPoint = (p: unknown): p is Point =>
  Array.isArray(p) && p.length === 3 && p.every((v) => typeof v === 'number');

/** The lines of the document, keel to sheer, as it names them. */
export function linesOf(document: Mapping): readonly HullLine[] {
  return Object.entries(mapping(at(document, 'hull.lines'))).flatMap(([id, line]) => {
    const points = mapping(line).points_m;
    if (!Array.isArray(points)) return [];
    return [{ id, kind: text(mapping(line).kind), points: points.filter(isPoint) }];
  });
}

/** The point of a line at a place along the boat, straight between its readings. */
export function pointAt(points: readonly Point[], x: number): FlatPoint | undefined {
  const after = points.findIndex((p) => p[0] >= x - 1e-9);
  const b = points[after];
  if (!b) return undefined;
  if (Math.abs(b[0] - x) < 1e-9) return [b[1], b[2]];
  const a = points[after - 1];
  if (!a) return undefined;
  const t = (x - a[0]) / (b[0] - a[0]);
  return [a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
}

export interface BodySection {
  readonly x: number;
  /** From the keel to the sheer, (half-breadth, height). */
  readonly points: readonly FlatPoint[];
}

/** A section at every station where the sheer was measured, or at stations of one's own. */
export function sectionsOf(
  lines: readonly HullLine[],
  stations: readonly number[] | undefined = undefined,
): readonly BodySection[] {
  const sheer = lines.find((l) => l.kind === 'sheer') ?? lines.at(-1);
  const all = stations ?? (sheer?.points ?? []).map(([x]) => x);
  return all.map((x) => ({
    x,
    points: lines.flatMap((line) => {
      const point = pointAt(line.points, x);
      return point ? [point] : [];
    }),
  }));
}

/** The lines as the CSV file that can be read back. */
export function csvOf(lines: readonly HullLine[]): string {
  const rows = lines.flatMap((l) => l.points.map((p) => [l.id, l.kind, ...p].join(',')));
  return ['line,kind,x_m,y_m,z_m', ...rows, ''].join('\n');
}
