/** How far two places of the boat lie from one another, and which of her places have a name. */
import type { FreeboardResult, ItemResult, PartResult, Profile } from '../../contract.ts';
import { quantity } from '../words/numbers.ts';
import { lastKey, plainWords, title } from '../words/plain-words.ts';
import type { Point } from './points.ts';

/** A place to measure from or to. */
export interface Place {
  readonly words: string;
  readonly point: Point;
  /** What it is known to [mm]. */
  readonly step: number;
}
export interface NamedPlace extends Place {
  readonly key: string;
  readonly group: string;
}

interface MeasuredBoat {
  readonly profile: Profile;
  readonly freeboards: readonly FreeboardResult[];
  readonly parts: readonly PartResult[];
  readonly items: readonly ItemResult[];
}

/** Freeboard marks, perpendiculars, centres of parts and of weights that are on board. */
export function namedPlaces({
  profile,
  freeboards,
  parts,
  items,
}: MeasuredBoat): readonly NamedPlace[] {
  const named = (group: string, key: string, words: string, point: Point) => ({
    group,
    key: `${group} ${key}`,
    words,
    point,
    step: 1,
  });
  const marks = freeboards.flatMap(({ mark, side, half_breadth_m }) => {
    const found = profile.marks.find((one) => one.id === mark);
    if (!found) return [];
    const across = side === 'port' ? -half_breadth_m : half_breadth_m;
    const words = `${title(mark)}, ${side}`;
    return [named('Freeboard marks', words, words, [found.x_m, across, found.sheer_z_m])];
  });
  const weights = items.filter(({ role }) => role === 'added' || role === 'moved');
  return [
    ...marks,
    named('Perpendiculars', 'forward', 'Forward, at the waterline', [0, 0, 0]),
    named('Perpendiculars', 'after', 'After, at the waterline', [profile.length_waterline_m, 0, 0]),
    ...parts.map((part) => named('Centres of parts', part.id, title(part.id), part.centroid_m)),
    ...weights.map((item) =>
      named(
        'Centres of weights',
        item.path,
        `${title(lastKey(item.path))} (${plainWords(item.change)})`,
        item.to_m ?? item.at_m,
      ),
    ),
  ];
}

/** A distance and its parts in words, each rounded to what both ends are known to. */
export interface Distance {
  readonly straight: string;
  readonly parts: string;
  readonly step: number;
}

const SIDES = [
  ['ahead', 'along', 'aft'],
  ['to port', 'across', 'to starboard'],
  ['down', 'up', 'up'],
] as const;

export function distanceOf(from: Place, to: Place): Distance {
  const step = Math.max(from.step, to.step);
  const apart = to.point.map((end, axis) => (end - (from.point[axis] ?? NaN)) * 1000);
  const parts = SIDES.map(([less, none, more], axis) => {
    const along = apart[axis] ?? NaN;
    const size = quantity(Math.abs(along), 'mm', step);
    const side = along < 0 ? less : more;
    return `${size} ${/[1-9]/.test(size) ? side : none}`;
  });
  return { straight: quantity(Math.hypot(...apart), 'mm', step), parts: parts.join(', '), step };
}

/** Corners of the way from one place to the other: along, then across, then up. */
export const wayOf = ([x0, y0, z0]: Point, [x1, y1, z1]: Point): readonly Point[] => [
  [x0, y0, z0],
  [x1, y0, z0],
  [x1, y1, z0],
  [x1, y1, z1],
];
