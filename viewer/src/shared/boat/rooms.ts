/** Where tanks, voids, compartments and openings lie, seen from the side. */
import { at, type Mapping, mapping } from './document.ts';
import { linesOf } from './hull-lines.ts';
import { type FlatPoint, isPoint } from './points.ts';
import type { SectionId } from './sections.ts';

export interface DrawnRoom {
  readonly path: string;
  readonly kind: 'room' | 'way-in';
  readonly points: readonly FlatPoint[];
}

const GROUPS: Partial<Readonly<Record<SectionId, readonly string[]>>> = {
  tanks: ['tanks', 'voids', 'hull.compartments'],
  openings: ['openings'],
};

type Range = readonly [number, number];

/** What a section enters and the drawing of the boat does not show by itself. */
export function roomsOf(document: Mapping, section: SectionId): readonly DrawnRoom[] {
  return (GROUPS[section] ?? []).flatMap((group) => roomsIn(document, group));
}

function roomsIn(document: Mapping, group: string): readonly DrawnRoom[] {
  const kind: DrawnRoom['kind'] = group === 'openings' ? 'way-in' : 'room';
  return Object.entries(mapping(at(document, group)))
    .map(([name, one]) => ({
      path: `${group}.${name}`,
      kind,
      points: sideOf(mapping(one), document),
    }))
    .filter(({ points }) => points.length > 0);
}

function sideOf(one: Mapping, document: Mapping): readonly FlatPoint[] {
  if (Array.isArray(one.edge_m)) {
    return one.edge_m.filter(isPoint).map(([x, , z]): FlatPoint => [x, z]);
  }
  const box = mapping(one.box_m);
  const x = rangeOf(box.x ?? one.x_m) ?? spanOf(one.outline_m);
  const z = rangeOf(box.z ?? one.z_m);
  if (!x) return [];
  const xs = z
    ? x
    : Array.from({ length: STEPS + 1 }, (_, i) => x[0] + (i / STEPS) * (x[1] - x[0]));
  const heights = xs.map((at) => z ?? hullAt(document, at));
  const edge = (end: 0 | 1) => xs.map((at, i): FlatPoint => [at, heights[i]?.[end] ?? 0]);
  return [...edge(0), ...edge(1).reverse()];
}

/** In how many steps a room as high as the hull is drawn. */
const STEPS = 12;

const isNumber = (value: unknown): value is number =>
  typeof value === 'number' && Number.isFinite(value);

function rangeOf(value: unknown): Range | undefined {
  if (!Array.isArray(value)) return undefined;
  const [low, high]: readonly unknown[] = value;
  return isNumber(low) && isNumber(high) ? [low, high] : undefined;
}

/** How far an outline reaches along the boat. */
function spanOf(outline: unknown): Range | undefined {
  if (!Array.isArray(outline)) return undefined;
  const xs = outline.map((point) => (Array.isArray(point) ? point[0] : undefined)).filter(isNumber);
  return xs.length === 0 ? undefined : [Math.min(...xs), Math.max(...xs)];
}

/** From the lowest of the hull's lines to the highest, at a place along the boat. */
function hullAt(document: Mapping, x: number): Range {
  const zs = linesOf(document).flatMap(({ points }) =>
    points.slice(1).flatMap(([x1, , z1], i) => {
      const [x0, , z0] = points[i] ?? [x1, 0, z1];
      return x0 < x1 && x0 <= x && x <= x1 ? [z0 + ((x - x0) / (x1 - x0)) * (z1 - z0)] : [];
    }),
  );
  return zs.length === 0 ? [0, 0] : [Math.min(...zs), Math.max(...zs)];
}
