/** An effect on trim without colour: a wedge that is deep where the boat goes down, and words. */
import { trimColour, trimEndOf } from '../colour/colour.ts';
import { isHatched } from '../colour/paint.ts';
import { trimEffectWords } from '../words/numbers.ts';

const SHAPES = {
  bow: '1,9 1,2 15,9',
  level: '1,7 15,7 15,9 1,9',
  stern: '1,9 15,2 15,9',
} as const;

export function Wedge({ mm, top }: { mm: number; top: number }) {
  return (
    <svg class="wedge" viewBox="0 0 16 11" aria-hidden="true">
      <polygon points={SHAPES[trimEndOf(mm)]} fill={trimColour(mm, top)} />
    </svg>
  );
}

/** What hatches a drawn shape: once on the page, for all of its drawings. */
export const Hatching = () => (
  <svg class="hatching" aria-hidden="true">
    <pattern id="hatching" width="5" height="5" patternUnits="userSpaceOnUse">
      <path d="M-1,1l2,-2M0,5l5,-5M4,6l2,-2" />
    </pattern>
  </svg>
);

/** The wedge with its words. */
export function Trim({ mm, top }: { mm: number; top: number }) {
  return (
    <span class="trim-words">
      <Wedge mm={mm} top={top} /> {trimEffectWords(mm)}
    </span>
  );
}

/** The words, and a bar from the middle to the bow (left) or to the stern (right). */
export function TrimBar({ mm, top }: { mm: number; top: number }) {
  const share = Math.min(1, Math.abs(mm) / top) * 50;
  const aft = mm > 0;
  const bar = {
    x: aft ? 50 : 50 - share,
    y: 0.5,
    width: Math.max(share, 0.8),
    height: 9,
  };
  return (
    <span class="trim-bar">
      <span>{trimEffectWords(mm)}</span>
      <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
        <line class="track" x1="0" x2="100" y1="5" y2="5" />
        <rect {...bar} fill={trimColour(mm, top)} />
        {isHatched('trim', mm) && <rect {...bar} class="hatched" />}
        <line x1="50" x2="50" y1="0" y2="10" />
      </svg>
    </span>
  );
}
