/** Turning the boat by hand, as seen from astern: clockwise is to starboard. */
import type { FlatPoint } from '../shared/boat/points.ts';

/** Nearer to the middle than this a hand has no direction [px]. */
const MIDDLE = 8;

/** The heel in whole degrees after a hand has gone from one place about the middle to another. */
export function turnedBy(heel: number, from: FlatPoint, to: FlatPoint): number {
  const far = ([x, y]: FlatPoint) => Math.hypot(x, y) >= MIDDLE;
  if (!(far(from) && far(to))) return Math.round(heel) + 0;
  const angle = ([x, y]: FlatPoint) => (Math.atan2(y, x) * 180) / Math.PI;
  const turned = ((angle(to) - angle(from) + 540) % 360) - 180;
  return Math.max(-180, Math.min(180, Math.round(heel + turned))) + 0;
}
