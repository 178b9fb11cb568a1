/** How she comes from one attitude to another. */
import type { Level } from './level.ts';

/** Slow at both ends. */
export const eased = (share: number): number => share * share * (3 - 2 * share);

/** How far she has swung: past the new attitude and back, less each time. */
export const swung = (share: number): number =>
  share >= 1 ? 1 : 1 - Math.exp(-4.2 * share) * Math.cos(2.5 * Math.PI * share);

/** An attitude between two, or beyond; she heels the shorter way round. */
export function between(a: Level, b: Level, share: number): Level {
  const heels = ((((b.heel - a.heel + 180) % 360) + 360) % 360) - 180;
  return {
    heel: a.heel + heels * share,
    trim: a.trim + (b.trim - a.trim) * share,
    offset: a.offset + (b.offset - a.offset) * share,
  };
}
