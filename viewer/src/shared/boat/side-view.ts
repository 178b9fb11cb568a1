/** Geometry of the drawing in side view; the boat is held still, the water moves. */

import type { ConditionResult, Outline, Profile } from '../../contract.ts';
import type { FlatPoint } from './points.ts';

/** The part of the boat's centre plane that is drawn [m]. */
export interface Frame {
  readonly x0: number;
  readonly x1: number;
  readonly z0: number;
  readonly z1: number;
}

/** From metres to pixels, the same along and up. */
export interface Scale {
  readonly perMetre: number;
  readonly width: number;
  readonly height: number;
  readonly x: (metres: number) => number;
  readonly z: (metres: number) => number;
  /** Whether her keel is drawn up, the heights with it. */
  readonly keelUp: boolean;
}

/** How the water lies on the boat: how deep both perpendiculars are sunk. */
export type Attitude = Pick<ConditionResult, 'sinkage_bow_mm' | 'sinkage_stern_mm'>;

const SIDE_ROOM = 0.55;
const ROOM_ABOVE = 0.3;
const ROOM_BELOW = 0.2;
const STEP = 0.25;
/** What a line needs beside it, and how much too large a frame may stay. */
const LINE_ROOM = 0.03;
const SPARE = 1.0;

/** The frame that was there before, and what is dragged meanwhile. */
interface Earlier {
  readonly before?: Frame | undefined;
  readonly held?: boolean;
  readonly still?: boolean;
  /** Heights that fit in too [m]. */
  readonly heights?: readonly number[];
}

/**
 * A frame around everything drawn, widened so that these places along the boat fit too. One that
 * was there before keeps its size while everything fits into it, moved up or down where it must,
 * so that nothing on the page moves while a dimension is dragged; what is much too large is kept
 * only while it is `held`. Under a hand that drags something in the drawing it stands `still`.
 */
export function frameOf(
  profile: Profile,
  places: readonly number[] = [],
  earlier: Earlier = {},
): Frame {
  const { before, still = false } = earlier;
  return still && before ? before : movedFrame(profile, places, earlier);
}

function movedFrame(
  profile: Profile,
  places: readonly number[],
  { before, held = false, heights = [] }: Earlier,
): Frame {
  const points = profile.outlines.flatMap((o) => o.points_m);
  const xs = [0, profile.length_waterline_m, ...places, ...points.map((p) => p[0])];
  const zs = [0, ...heights, ...points.map((p) => p[1])];
  const [x0, x1, z0, z1] = [Math.min(...xs), Math.max(...xs), Math.min(...zs), Math.max(...zs)];
  const fresh = {
    x0: stepBelow(x0 - SIDE_ROOM),
    x1: -stepBelow(-x1 - SIDE_ROOM),
    z0: stepBelow(z0 - ROOM_BELOW),
    z1: -stepBelow(-z1 - ROOM_ABOVE),
  };
  if (!before) return fresh;
  const up = Math.max(0, z1 + LINE_ROOM - before.z1);
  const down = Math.max(0, before.z0 - z0 + LINE_ROOM);
  const fits =
    Math.min(x0 - before.x0, before.x1 - x1) >= LINE_ROOM &&
    z1 - z0 + 2 * LINE_ROOM <= before.z1 - before.z0;
  const spare = Math.max(
    fresh.x0 - before.x0,
    before.x1 - fresh.x1,
    before.z1 - before.z0 - (fresh.z1 - fresh.z0),
  );
  if (!fits || !(held || spare < SPARE)) return fresh;
  const by = up || -down;
  return by === 0 ? before : { ...before, z0: before.z0 + by, z1: before.z1 + by };
}

/** A frame so much wider on both sides that in a width it is drawn no higher than `most` [px]. */
export function lowered(frame: Frame, width: number, most: number): Frame {
  const { x0, x1, z0, z1 } = frame;
  const side = Math.max(0, ((z1 - z0) * width) / most - (x1 - x0)) / 2;
  return side === 0 ? frame : { ...frame, x0: x0 - side, x1: x1 + side };
}

const stepBelow = (metres: number) => Math.floor(metres / STEP) * STEP;

/** Whether she rests with her mast below the horizon. */
export const upturned = (boat: Pick<ConditionResult, 'upside_down'>) => boat.upside_down === true;

/** The scale at which a frame fills a width; with her keel up the bow stays to the left. */
export function scaleOf(frame: Frame, width: number, keelUp = false): Scale {
  const perMetre = width / (frame.x1 - frame.x0);
  return {
    perMetre,
    width,
    height: (frame.z1 - frame.z0) * perMetre,
    x: (metres) => (metres - frame.x0) * perMetre,
    z: (metres) => (keelUp ? metres - frame.z0 : frame.z1 - metres) * perMetre,
    keelUp,
  };
}

/** SVG path data of points (x, z) [m]. */
export function svgPathOf(points: readonly FlatPoint[], closed: boolean, scale: Scale): string {
  const steps = points.map(
    ([x, z], i) => `${i === 0 ? 'M' : 'L'}${scale.x(x).toFixed(1)},${scale.z(z).toFixed(1)}`,
  );
  return steps.join('') + (closed ? 'Z' : '');
}

/** Height of the water on the centre plane at a place along the boat [m]: a straight line. */
export function waterAt(attitude: Attitude, length: number, x: number): number {
  const { sinkage_bow_mm: bow, sinkage_stern_mm: stern } = attitude;
  return (bow + (stern - bow) * (x / length)) / 1000;
}

/** Whole metres within a frame, for its ruler. */
export function rulerMarks(frame: Frame, perMetre = 1): readonly number[] {
  const [first, last] = [Math.ceil(frame.x0 * perMetre), Math.floor(frame.x1 * perMetre)];
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => first + i);
}

/** Outlines of one thing as the paths to draw: what lies within its first outline is a hole. */
export function withHoles(outlines: readonly Outline[]): readonly (readonly Outline[])[] {
  const paths: Outline[][] = [];
  for (const outline of outlines) {
    const around = paths.find(
      ([first]) =>
        first?.id === outline.id && outline.points_m.every((p) => isInside(p, first.points_m)),
    );
    if (around) around.push(outline);
    else paths.push([outline]);
  }
  return paths;
}

/** Whether a point lies within an outline: a ray from it crosses the outline an odd number of times. */
function isInside([x, z]: FlatPoint, outline: readonly FlatPoint[]): boolean {
  let inside = false;
  let before = outline.at(-1);
  for (const point of outline) {
    const [x0, z0] = before ?? point;
    const [x1, z1] = point;
    if (z0 > z !== z1 > z && x < x0 + ((z - z0) / (z1 - z0)) * (x1 - x0)) inside = !inside;
    before = point;
  }
  return inside;
}

/** Height of a line from the side at x [m], straight between its points; undefined beyond it. */
export function heightAlong(line: readonly FlatPoint[], x: number): number | undefined {
  const i = line.findIndex(([at]) => at >= x);
  const [x1, z1] = line[i] ?? [NaN, NaN];
  const [x0, z0] = line[i - 1] ?? [x1, z1];
  return x0 <= x && x <= x1 ? z0 + ((z1 - z0) * (x - x0)) / (x1 - x0 || 1) : undefined;
}
