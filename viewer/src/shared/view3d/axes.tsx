/** Forward, starboard and up in the corner of the drawing; one towards the eye is left out. */
import type { BoatView } from '../../scene/view.ts';
import type { Ref } from './use-boat-view.ts';

const WORDS = ['fwd', 'stbd', 'up'] as const;
const LONG = 24;
const SHORTEST = 0.3;

export function Axes({ at }: { at: Ref<SVGSVGElement> }) {
  return (
    <svg ref={at} class="axes" viewBox="-44 -38 88 76" aria-hidden="true">
      {WORDS.map((word) => (
        <g key={word}>
          <path />
          <text text-anchor="middle">{word}</text>
        </g>
      ))}
    </svg>
  );
}

/** Turns them as the camera stands, without another rendering of the page. */
export function turnAxes(svg: SVGSVGElement | null, view: BoatView | null): void {
  if (!(svg && view)) return;
  for (const [i, [x, y]] of view.camera.axes().entries()) {
    const group = svg.children[i];
    const length = Math.hypot(x, y);
    const words = LONG + 9 / Math.max(0.35, length);
    const set = (child: Element | null | undefined, name: string, value: string) =>
      child?.setAttribute(name, value);
    set(group?.firstElementChild, 'd', `M0,0L${(x * LONG).toFixed(1)},${(y * LONG).toFixed(1)}`);
    set(group?.lastElementChild, 'x', (x * words).toFixed(1));
    set(group?.lastElementChild, 'y', (y * words + 3).toFixed(1));
    const opacity = length < SHORTEST ? 0 : Math.min(1, 0.35 + length);
    set(group, 'opacity', opacity.toFixed(2));
  }
}
