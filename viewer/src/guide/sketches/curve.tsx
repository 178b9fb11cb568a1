/** Her curve of righting levers in little, to her worse side, with where it ends. */
import type { ConditionResult } from '../../contract.ts';
import { angleWords, vanishingWords } from '../../shared/answer/criteria.ts';
import type { FlatPoint } from '../../shared/boat/points.ts';

const WIDTH = 420;
const HEIGHT = 190;
const [LEFT, RIGHT, TOP, BOTTOM] = [14, 406, 34, 176];
const CIRCLE_DEG = 180;

export function CurveSketch({ boat }: { boat: ConditionResult | undefined }) {
  const points = boat ? leversOf(boat) : [];
  if (!boat || points.length < 2) return null;
  const heights = points.map(([, gz]) => gz);
  const [low, high] = [Math.min(0, ...heights), Math.max(0.01, ...heights)];
  const x = (heel: number) => LEFT + ((RIGHT - LEFT) * heel) / CIRCLE_DEG;
  const y = (gz: number) => TOP + ((BOTTOM - TOP) * (high - gz)) / (high - low);
  const curve = points.map(([heel, gz]) => `${x(heel).toFixed(1)},${y(gz).toFixed(1)}`);
  const { vanishing_angle_deg: vanishes, downflooding_angle_deg: floods } = boat;
  return (
    <svg class="sketch" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={spoken(boat)}>
      <path class="thin" d={`M${LEFT},${y(0)}H${RIGHT}`} />
      <path class="strong" d={`M${curve.join('L')}`} />
      <Flag x={x(vanishes ?? 0)} foot={y(0)} top={28} words={vanishes ? 'AVS' : ''} />
      <Flag x={x(floods ?? 0)} foot={y(0)} top={14} words={floods ? 'downflooding' : ''} />
      <text x={RIGHT} y={y(0) - 5} text-anchor="end">
        heel
      </text>
      <text x={LEFT} y={TOP - 8}>
        GZ
      </text>
    </svg>
  );
}

/** Heel to her worse side and the lever that rights her there; none where they are not known. */
function leversOf({ righting_levers: levers, worse_side }: ConditionResult): readonly FlatPoint[] {
  if (!levers) return [];
  const out = worse_side === 'port' ? -1 : 1;
  return levers.heel_deg
    .map((heel, i): FlatPoint => [out * heel, levers.gz_m[i] ?? 0])
    .filter(([heel]) => heel >= 0)
    .toSorted(([a], [b]) => a - b);
}

interface FlagProps {
  readonly x: number;
  readonly foot: number;
  readonly top: number;
  /** Empty where there is none. */
  readonly words: string;
}

function Flag({ x, foot, top, words }: FlagProps) {
  if (!words) return null;
  return (
    <>
      <path d={`M${x},${foot}V${top}`} />
      <text x={x + 4} y={top + 4}>
        {words}
      </text>
    </>
  );
}

const spoken = (boat: ConditionResult): string =>
  `Her righting lever over heel to ${boat.worse_side ?? 'starboard'}. Angle of vanishing stability: ${vanishingWords(boat.vanishing_angle_deg)}; downflooding: ${angleWords(boat.downflooding_angle_deg, 'none')}.`;
