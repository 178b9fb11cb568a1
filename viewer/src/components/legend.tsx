/** The scale of the colours, with words and wedges at its ends. */
import { useApp } from '../app-context.ts';
import { massColour, trimColour } from '../colour.ts';
import { number } from '../numbers.ts';
import { Wedge } from './wedge.tsx';

const STEPS = 20;

export function Legend() {
  const { mode, scales } = useApp();
  if (mode === 'plain') return null;
  const { trimTop, massTop } = scales;
  const stops = Array.from({ length: STEPS + 1 }, (_, i) =>
    mode === 'trim'
      ? trimColour((i / STEPS - 0.5) * 2 * trimTop, trimTop)
      : massColour(i, STEPS),
  );
  const bar = (
    <span
      class="legend-bar"
      style={{ background: `linear-gradient(to right, ${stops.join(', ')})` }}
    />
  );
  if (mode === 'mass') {
    return (
      <p class="legend">
        <span>0</span>
        {bar}
        <span>{number(massTop, 1)} kg</span>
      </p>
    );
  }
  return (
    <p class="legend">
      <span>
        <Wedge mm={-trimTop} top={trimTop} /> {number(trimTop, 1)} mm by the bow
      </span>
      {bar}
      <span>
        {number(trimTop, 1)} mm by the stern <Wedge mm={trimTop} top={trimTop} />
      </span>
    </p>
  );
}
