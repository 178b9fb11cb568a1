/** Geometry of the drawing in side view; the boat is held still, the water moves. */
import type { FlatPoint } from './points.ts';
import type { Outline, Profile } from './contract.ts';

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

/** How the water lies on the boat. */
export interface Attitude {
  readonly sinkage_mm: number;
  readonly trim_mm: number;
  readonly heel_deg: number;
}

const SIDE_ROOM = 0.55;
const ROOM_ABOVE = 0.16;
const ROOM_BELOW = 0.2;
const STEP = 0.25;

/**
 * A frame around everything drawn, widened so that these places along the boat fit too; in
 * steps, so that the drawing keeps its size while a dimension is dragged.
 */
export function frameOf(profile: Profile, places: readonly number[] = []): Frame {
  const points = profile.outlines.flatMap((o) => o.points_m);
  const xs = [0, profile.length_waterline_m, ...places, ...points.map((p) => p[0])];
  const zs = [0, ...points.map((p) => p[1])];
  return {
    x0: stepBelow(Math.min(...xs) - SIDE_ROOM),
    x1: -stepBelow(-Math.max(...xs) - SIDE_ROOM),
    z0: stepBelow(Math.min(...zs) - ROOM_BELOW),
    z1: -stepBelow(-Math.max(...zs) - ROOM_ABOVE),
  };
}

const stepBelow = (metres: number) => Math.floor(metres / STEP) * STEP;

/** Whether she rests with her mast below the horizon. */
export const upturned = ({ heel_deg }: { readonly heel_deg: number }) =>
  Math.abs(heel_deg) > 90;

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
export function pathOf(points: readonly FlatPoint[], closed: boolean, scale: Scale): string {
  const steps = points.map(
    ([x, z], i) => `${i === 0 ? 'M' : 'L'}${scale.x(x).toFixed(1)},${scale.z(z).toFixed(1)}`,
  );
  return steps.join('') + (closed ? 'Z' : '');
}

/** Height of the water on the centre plane at a place along the boat [m]. */
export function waterAt(attitude: Attitude, length: number, x: number): number {
  return (attitude.sinkage_mm + (x / length - 0.5) * attitude.trim_mm) / 1000;
}

/** Whole metres within a frame, for its ruler. */
export function rulerMarks(frame: Frame): readonly number[] {
  const first = Math.ceil(frame.x0);
  return Array.from(
    { length: Math.max(0, Math.floor(frame.x1) - first + 1) },
    (_, i) => first + i,
  );
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
  for (const [i, [x1, z1]] of outline.entries()) {
    const [x0, z0] = outline.at(i - 1)!;
    if (z0 > z !== z1 > z && x < x0 + ((z - z0) / (z1 - z0)) * (x1 - x0)) inside = !inside;
  }
  return inside;
}
