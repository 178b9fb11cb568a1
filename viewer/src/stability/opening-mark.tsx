/** An opening on a drawing of the boat heeled: a circle at its deepest place, filled if under. */
import { openingWords } from '../shared/answer/criteria.ts';
import type { OpeningNow } from '../shared/boat/heeled.ts';
import type { FlatPoint } from '../shared/boat/points.ts';

interface Props {
  readonly one: OpeningNow;
  /** Its edge on the drawing, y growing downwards [px]. */
  readonly spots: readonly FlatPoint[];
}

export function OpeningMark({ one, spots }: Props) {
  const deepest = spots.reduce((a, b) => (b[1] > a[1] ? b : a));
  const words = spots.map((spot) => spot.map((v) => v.toFixed(1)).join());
  return (
    <g class={one.under ? 'opening wet' : 'opening'}>
      <title>{`${openingWords(one.opening)}, ${one.under ? 'under water' : 'above water'}`}</title>
      {spots.length > 1 && <path d={`M${words.join('L')}`} />}
      <circle cx={deepest[0].toFixed(1)} cy={deepest[1].toFixed(1)} r="4" />
    </g>
  );
}
