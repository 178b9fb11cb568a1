/** Heeling her by itself: from upright to a little past where she no longer rights herself. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { ConditionResult } from '../contract.ts';
import { type Side, toSide, vanishing } from '../shared/boat/levers.ts';

const DEG_PER_S = 14;
/** Degrees that she goes beyond where her lever vanishes. */
const BEYOND_DEG = 4;
const MOST_DEG = 178;
/** How far she goes where her lever never rights: enough to see it. */
const WITHOUT_RANGE_DEG = 40;
/** Degrees a press takes her further where motion is reduced. */
const PRESS_DEG = 10;

/** The heel at which the play ends, without its side [deg]. */
export function endOf(boat: ConditionResult, side: Side): number {
  const angle = vanishing(boat, side);
  const last = Math.abs(boat.held?.[side]?.heel_deg.at(-1) ?? 0);
  const wanted = angle === null || angle <= 0 ? WITHOUT_RANGE_DEG : Math.ceil(angle) + BEYOND_DEG;
  return Math.min(wanted, MOST_DEG, last);
}

/** The heel after one more press; upright again after the end. */
export const pressed = (heel: number, end: number): number =>
  heel >= end ? 0 : Math.min(end, Math.floor(heel / PRESS_DEG) * PRESS_DEG + PRESS_DEG);

const REDUCED_MOTION = '(prefers-reduced-motion: reduce)';

export interface Play {
  readonly playing: boolean;
  /** Whether motion is reduced: each press heels her further. */
  readonly still: boolean;
  readonly press: () => void;
  readonly stop: () => void;
}

/** Whether she plays, whether by presses, and the press itself. */
export function usePlay(
  now: ConditionResult,
  { heel, side, setHeel }: { heel: number; side: Side; setHeel: (heel: number) => void },
): Play {
  const [playing, setPlaying] = useState(false);
  const still = matchMedia(REDUCED_MOTION).matches;
  const end = endOf(now, side);
  const set = useRef(setHeel);
  set.current = setHeel;
  useEffect(() => {
    if (!playing) return undefined;
    const begun = Math.abs(heel) >= end ? 0 : Math.abs(heel);
    const began = performance.now();
    let frame = 0;
    const step = () => {
      const at = begun + ((performance.now() - began) / 1000) * DEG_PER_S;
      set.current(toSide(Math.min(at, end), side));
      if (at >= end) return setPlaying(false);
      frame = requestAnimationFrame(step);
      return undefined;
    };
    step();
    return () => cancelAnimationFrame(frame);
  }, [playing, end, side]);
  const press = () => {
    if (still) setHeel(toSide(pressed(Math.abs(heel), end), side));
    else if (playing) {
      setPlaying(false);
      setHeel(Math.round(heel) + 0);
    } else setPlaying(true);
  };
  return { playing, still, press, stop: () => setPlaying(false) };
}
