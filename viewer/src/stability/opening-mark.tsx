/** An opening on a drawing of the boat heeled: a circle at its deepest place, filled if under. */
import type { OpeningResult } from '../contract.ts';
import { openingWords } from '../shared/answer/criteria.ts';
import type { FlatPoint } from '../shared/boat/points.ts';

interface Props {
  readonly opening: OpeningResult;
  /** Whether it lies under water. */
  readonly under: boolean;
  /** Its edge on the drawing, y growing downwards [px]. */
  readonly spots: readonly FlatPoint[];
}

export function OpeningMark({ opening, under, spots }: Props) {
  const deepest = spots.reduce((a, b) => (b[1] > a[1] ? b : a));
  const words = spots.map((spot) => spot.map((v) => v.toFixed(1)).join());
  return (
    <g class={under ? 'opening wet' : 'opening'}>
      <title>{`${openingWords(opening)}, ${under ? 'under water' : 'above water'}`}</title>
      {spots.length > 1 && <path d={`M${words.join('L')}`} />}
      <circle cx={deepest[0].toFixed(1)} cy={deepest[1].toFixed(1)} r="4" />
    </g>
  );
}
