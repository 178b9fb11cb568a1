/** What moves by itself: for so long, or at once where motion is reduced. */
/** Ends a motion before its time, where it stands. */
export type Stop = () => void;

export const isStill = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** Times of the style sheet. */
type Motion = 'turn' | 'swing' | 'settle';

function msOf(motion: Motion): number {
  const styles = getComputedStyle(document.documentElement);
  const time = styles.getPropertyValue(`--motion-${motion}`).trim();
  return Number.parseFloat(time) * (time.endsWith('ms') ? 1 : 1000);
}

/** Hands over shares from 0 to 1 of a motion's time, frame by frame; then it is done. */
export function play(motion: Motion, step: (share: number) => void, done?: () => void): Stop {
  const ms = isStill() ? 0 : msOf(motion);
  if (!(ms > 0)) {
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
