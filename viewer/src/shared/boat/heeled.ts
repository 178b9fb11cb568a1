/** The boat seen from astern along the water: sections, deck edge, keel, house, openings. */
import type { OpeningResult, Outline } from '../../contract.ts';
import { at, isMapping, type Mapping, mapping, numberOr, text } from './document.ts';
import { type BodySection, linesOf, sectionsOf } from './hull-lines.ts';
import { heightAt, type Level, seenAcross } from './level.ts';
import { lowest } from './levers.ts';
import type { FlatPoint, Point } from './points.ts';

export interface Strand {
  readonly kind: 'section' | 'midship' | 'sheer' | 'keel' | 'house';
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** What is drawn of the boat, both sides, in her own frame. */
export function strandsOf(
  document: Mapping,
  outlines: readonly Outline[],
  houses: ReadonlySet<string>,
): readonly Strand[] {
  const lines = linesOf(document);
  const middle = numberOr(at(document, 'hull.length_waterline_m'), 0) / 2;
  const midship = sectionsOf(lines, [middle])[0];
  const sections = sectionsOf(lines).map((s) => strand('section', bothSides(s)));
  const sheer = (lines.find((l) => l.kind === 'sheer') ?? lines.at(-1))?.points ?? [];
  return [
    ...sections,
    strand('sheer', sheer),
    strand(
      'sheer',
      sheer.map(([x, y, z]): Point => [x, -y, z]),
    ),
    ...outlines.filter((o) => o.role === 'appendage').map(keelOf),
    ...housesOf(document, houses).flatMap((house) => houseOf(house, document) ?? []),
    ...(midship ? [strand('midship', bothSides(midship), true)] : []),
  ];
}

const strand = (kind: Strand['kind'], points: readonly Point[], closed = false): Strand => ({
  kind,
  points,
  closed,
});

function bothSides({ x, points }: BodySection): readonly Point[] {
  const starboard = points.map(([y, z]): Point => [x, y, z]);
  return [...starboard.map(([, y, z]): Point => [x, -y, z]).reverse(), ...starboard];
}

/** An appendage on the centreline: its fore and aft corners seen end on, highest to lowest. */
function keelOf({ points_m: points }: Outline): Strand {
  const byHeight = points.toSorted((a, b) => b[1] - a[1]);
  const ends = [byHeight[0], byHeight.at(-1)].flatMap((p) => (p ? [p] : []));
  return strand(
    'keel',
    ends.map(([x, z]): Point => [x, 0, z]),
  );
}

/** The dimensions of the houses that stand on the boat as she is drawn. */
function housesOf(document: Mapping, standing: ReadonlySet<string>): readonly Mapping[] {
  const existing = Object.entries(mapping(document.existing)).map(
    ([id, part]) => [`existing.${id}`, part] as const,
  );
  const fresh = Object.values(mapping(document.changes)).flatMap((change) =>
    Object.entries(mapping(mapping(change).parts)),
  );
  return [...existing, ...fresh]
    .filter(([id, part]) => standing.has(id) && text(mapping(part).kind) === 'deckhouse')
    .map(([, part]) => mapping(part));
}

const RADIANS = Math.PI / 180;
const ARC = [1, 0.75, 0.5, 0.25, 0, -0.25, -0.5, -0.75, -1];

/** A house's section at its mid-length, from the deck over the roof to the deck. */
function houseOf(house: Mapping, document: Mapping): Strand | undefined {
  const given = (key: string) => numberOr(house[key], NaN);
  const x = (given('x_forward_m') + given('x_aft_m')) / 2;
  const roof = (given('roof_half_breadth_forward_m') + given('roof_half_breadth_aft_m')) / 2;
  const height = given('side_height_m');
  const foot = roof + height * Math.tan(given('tumblehome_deg') * RADIANS);
  const deck = deckAt(document, x, foot);
  if (deck === undefined || !Number.isFinite(foot)) return undefined;
  const camber = numberOr(house.roof_camber_m, 0);
  const over = ARC.map((t): Point => [x, roof * t, deck + height + camber * (1 - t * t)]);
  return strand('house', [[x, foot, deck], ...over, [x, -foot, deck]], true);
}

function deckAt(document: Mapping, x: number, y: number): number | undefined {
  const edge = sectionsOf(linesOf(document), [x])[0]?.points.at(-1);
  if (!edge) return undefined;
  const deck = at(document, 'hull.deck');
  const [breadth, z] = edge;
  if (!isMapping(deck)) return z;
  const per = numberOr(deck.camber_m, 0) / numberOr(deck.at_half_breadth_m, 1);
  return z + per * breadth * (1 - (y / breadth) ** 2);
}

/** Across and above the water, as seen from astern. */
export const seen = (held: Level, point: Point): FlatPoint => [
  seenAcross(held, point),
  heightAt(held, point),
];

/** How far from the water's middle anything is drawn, at any of some heels [m]. */
export function reachOf(strands: readonly Strand[], heels: readonly Level[]) {
  const points = strands.flatMap((s) => s.points);
  let [across, over, under] = [0.1, 0.1, 0.1];
  for (const held of heels) {
    for (const point of points) {
      const [u, h] = seen(held, point);
      across = Math.max(across, Math.abs(u));
      over = Math.max(over, h);
      under = Math.max(under, -h);
    }
  }
  return { across, over, under };
}

/** An opening at a heel. */
export interface OpeningNow {
  readonly opening: OpeningResult;
  /** Of its lowest edge above the water [m]. */
  readonly height: number;
  readonly under: boolean;
}

/** Openings at a heel, the deepest first. */
export function openingsNow(
  openings: readonly OpeningResult[],
  held: Level,
): readonly OpeningNow[] {
  return openings
    .map((opening) => {
      const height = lowest(held, opening.edge_m);
      return { opening, height, under: height < 0 };
    })
    .toSorted((a, b) => a.height - b.height);
}
