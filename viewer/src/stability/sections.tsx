/** The boat held at a heel as her sections, seen from astern along the water. */
import { useMemo } from 'preact/hooks';
import type { ConditionResult } from '../contract.ts';
import { useBoat } from '../session/context.tsx';
import { reachOf, type Strand, seen, strandsOf } from '../shared/boat/heeled.ts';
import type { Level } from '../shared/boat/level.ts';
import { type Held, levelsOf } from '../shared/boat/levers.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import { heelWords } from '../shared/words/numbers.ts';
import { OpeningMark } from './opening-mark.tsx';

const WIDTH = 400;
const MARGIN = 10;

interface Screen {
  readonly per: number;
  readonly height: number;
  readonly at: (point: FlatPoint) => FlatPoint;
}

interface Props {
  readonly now: ConditionResult;
  readonly held: Held;
}

export function Sections({ now, held }: Props) {
  const { strands, screen } = useStrands(now);
  const [, water] = screen.at([0, 0]);
  return (
    <svg
      class="sections"
      viewBox={`0 0 ${WIDTH} ${screen.height.toFixed(0)}`}
      role="img"
      aria-label={`Her sections from astern, ${heelWords(held.heel, 1)}`}
    >
      <path class="sea" d={`M0,${water}H${WIDTH}V${screen.height}H0Z`} />
      {strands.map((strand, i) => (
        <path key={i} class={strand.kind} d={pathOf(strand, held, screen)} />
      ))}
      <path class="waterline" d={`M0,${water}H${WIDTH}`} />
      {now.openings.map((opening) => (
        <OpeningMark
          key={`${opening.id} ${opening.side}`}
          opening={opening}
          under={held.under.includes(opening)}
          spots={opening.edge_m.map((p) => screen.at(seen(held, p)))}
        />
      ))}
      <text x={6} y={screen.height - 8}>
        port
      </text>
      <text x={WIDTH - 6} y={screen.height - 8} text-anchor="end">
        starboard
      </text>
    </svg>
  );
}

function useStrands(now: ConditionResult) {
  const { body } = useBoat().working.profile;
  return useMemo(() => {
    const strands = strandsOf(body);
    return { strands, screen: screenOf(strands, levelsOf(now)) };
  }, [now, body]);
}

function screenOf(strands: readonly Strand[], heels: readonly Level[]): Screen {
  const { across, over, under } = reachOf(strands, heels);
  const per = (WIDTH / 2 - MARGIN) / across;
  return {
    per,
    height: (over + under) * per + 2 * MARGIN,
    at: ([u, h]) => [WIDTH / 2 + u * per, MARGIN + (over - h) * per],
  };
}

function pathOf({ points, closed }: Strand, held: Level, screen: Screen): string {
  const steps = points.map((p) =>
    screen
      .at(seen(held, p))
      .map((v) => v.toFixed(1))
      .join(),
  );
  return steps.length > 0 ? `M${steps.join('L')}${closed ? 'Z' : ''}` : '';
}
