/** The sections of the hull as she floats, end on: forward ones to starboard, after ones to port. */
import type { BodyCurve } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { quantity } from '../words/numbers.ts';

const WIDTH = 420;
const MARGIN = 18;

export function BodyPlan() {
  const { body } = useBoat().working.profile;
  const sections = body.filter((curve) => curve.role === 'section');
  const points = sections.flatMap((s) => s.points_m);
  const [widest] = sections.toSorted((a, b) => breadthOf(b) - breadthOf(a));
  if (!widest) return null;
  const breadth = breadthOf(widest);
  const top = Math.max(...points.map(([, , z]) => z));
  const bottom = Math.min(...points.map(([, , z]) => z));
  const per = (WIDTH / 2 - MARGIN) / breadth;
  const height = (top - bottom) * per + 2 * MARGIN;
  const z = (v: number) => MARGIN + (top - v) * per;
  const path = (s: BodyCurve) => {
    const side = stationOf(s) > stationOf(widest) ? -1 : 1;
    const steps = s.points_m.map(
      ([, y, v]) => `${(WIDTH / 2 + side * y * per).toFixed(1)},${z(v).toFixed(1)}`,
    );
    return `M${steps.join('L')}`;
  };
  return (
    <svg
      class="body-plan"
      viewBox={`0 0 ${WIDTH} ${height.toFixed(0)}`}
      role="img"
      aria-label={`Body plan, ${sections.length} sections, half-breadth ${quantity(breadth, 'm', 0.01)}`}
    >
      <path class="ruler" d={`M${WIDTH / 2},4V${height - 4}M6,${z(0)}H${WIDTH - 6}`} />
      {sections.map((s) => (
        <path key={stationOf(s)} d={path(s)} />
      ))}
      <text x={WIDTH - 2} y={z(0) - 4} text-anchor="end">
        DWL
      </text>
      <text x={WIDTH - 6} y={height - 6} text-anchor="end">
        forward
      </text>
      <text x={6} y={height - 6}>
        aft
      </text>
    </svg>
  );
}

const breadthOf = ({ points_m }: BodyCurve) => Math.max(...points_m.map(([, y]) => y));
const stationOf = ({ points_m }: BodyCurve) => points_m[0]?.[0] ?? 0;
