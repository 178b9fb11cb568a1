/** What moves by itself: for so long, or at once where motion is reduced. */
import type { Level } from '../shared/boat/level.ts';

/** Ends a motion before its time, where it stands. */
export type Stop = () => void;

export const isStill = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** Hands over shares from 0 to 1 of a time [ms], frame by frame; then it is done. */
export function play(ms: number, step: (share: number) => void, done?: () => void): Stop {
  if (isStill() || ms <= 0) {
    step(1);
    done?.();
    return () => undefined;
  }
  let frame = 0;
  const began = performance.now();
  const next = () => {
    const share = Math.min(1, Math.max(0, (performance.now() - began) / ms));
    step(share);
    if (share < 1) frame = requestAnimationFrame(next);
    else done?.();
  };
  next();
  return () => cancelAnimationFrame(frame);
}

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
