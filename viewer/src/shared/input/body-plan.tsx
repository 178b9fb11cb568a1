/** The sections of the hull end on: forward ones to starboard, after ones to port. */
import { type BodySection, type HullLine, sectionsOf } from '../boat/hull-lines.ts';
import { number } from '../words/numbers.ts';

const WIDTH = 420;
const MARGIN = 18;

export function BodyPlan({ lines }: { lines: readonly HullLine[] }) {
  const sections = sectionsOf(lines);
  const points = sections.flatMap((s) => s.points);
  if (points.length === 0) return null;
  const breadth = Math.max(...points.map((p) => p[0]));
  const top = Math.max(...points.map((p) => p[1]));
  const bottom = Math.min(...points.map((p) => p[1]));
  const widest = sections.reduce((a, b) => (edge(b) > edge(a) ? b : a));
  const per = (WIDTH / 2 - MARGIN) / breadth;
  const height = (top - bottom) * per + 2 * MARGIN;
  const x = (y: number, aft: boolean) => WIDTH / 2 + (aft ? -1 : 1) * y * per;
  const z = (v: number) => MARGIN + (top - v) * per;
  const path = (s: BodySection, aft: boolean) =>
    s.points
      .map(([y, v], i) => `${i ? 'L' : 'M'}${x(y, aft).toFixed(1)},${z(v).toFixed(1)}`)
      .join('');
  return (
    <svg
      class="body-plan"
      viewBox={`0 0 ${WIDTH} ${height.toFixed(0)}`}
      role="img"
      aria-label={`Body plan, ${sections.length} sections, half-breadth ${number(breadth, 0.01)} metres`}
    >
      <path class="ruler" d={`M${WIDTH / 2},4V${height - 4}M6,${z(0)}H${WIDTH - 6}`} />
      {sections.map((s) => (
        <path key={s.x} d={path(s, s.x > widest.x)} />
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

const edge = (s: BodySection) => Math.max(...s.points.map((p) => p[0]));
