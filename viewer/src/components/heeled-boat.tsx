/** The boat held at a heel, seen from astern along the water. */
import { useMemo } from 'preact/hooks';
import { useApp } from '../app-context.ts';
import type { ConditionResult } from '../contract.ts';
import { openingWords, underWords } from '../criteria.ts';
import { openingsNow, reachOf, seen, strandsOf, type Strand } from '../heeled.ts';
import { onSide, SIDES, valuesAt, type At } from '../levers.ts';
import { heelWords, number } from '../numbers.ts';
import type { FlatPoint, Point } from '../points.ts';

const WIDTH = 400;
const MARGIN = 10;

interface Screen {
  readonly per: number;
  readonly height: number;
  readonly at: (point: FlatPoint) => FlatPoint;
}

export function HeeledBoat({ now, heel }: { now: ConditionResult; heel: number }) {
  const { strands, screen } = useBoat(now);
  const levers = now.righting_levers;
  const held = levers && valuesAt(levers, heel);
  if (!held) return <p class="about">She has no trim to be held at this heel.</p>;
  const openings = openingsNow(now.openings, held);
  const under = openings.filter((o) => o.under).map((o) => openingWords(o.opening));
  const next = openings.find((o) => !o.under);
  const [, water] = screen.at([0, 0]);
  return (
    <figure class="heeled">
      <svg
        viewBox={`0 0 ${WIDTH} ${screen.height.toFixed(0)}`}
        role="img"
        aria-label={`The boat from astern, ${heelWords(heel, 1)}. ${underWords(under)}`}
      >
        <path class="sea" d={`M0,${water}H${WIDTH}V${screen.height}H0Z`} />
        {strands.map((strand, i) => (
          <path key={i} class={strand.kind} d={pathOf(strand, held, screen)} />
        ))}
        <path class="waterline" d={`M0,${water}H${WIDTH}`} />
        {openings.map(({ opening, under: wet }) => (
          <OpeningMark
            key={`${opening.id} ${opening.side}`}
            edge={opening.edge_m}
            wet={wet}
            held={held}
            screen={screen}
          />
        ))}
        <text x={6} y={screen.height - 8}>
          port
        </text>
        <text x={WIDTH - 6} y={screen.height - 8} text-anchor="end">
          starboard
        </text>
      </svg>
      <figcaption>
        <b>{heelWords(heel, 1)}</b>, trimmed {trimWordsOf(held.trim)}. {underWords(under)}
        {next && ` Next: ${openingWords(next.opening)}, ${number(next.height, 0.01)} m above.`}
        <small>
          Midship section strong, the others thin; deck edge, keel, and the house at its
          mid-length, straight between measured points. Seen along the water, so every height
          above it is true. Openings are circles, filled where under.
        </small>
      </figcaption>
    </figure>
  );
}

const trimWordsOf = (deg: number) =>
  Math.abs(deg) < 0.05
    ? 'level'
    : `${number(Math.abs(deg), 0.1)}° by the ${deg > 0 ? 'stern' : 'bow'}`;

function useBoat(now: ConditionResult) {
  const { working, document } = useApp();
  return useMemo(() => {
    const standing = working.scene
      .filter((piece) => piece.role === 'new' || piece.role === 'existing')
      .map((piece) => piece.id);
    const strands = strandsOf(document, working.profile.outlines, new Set(standing));
    const levers = now.righting_levers;
    const heels = levers ? SIDES.flatMap((side) => onSide(levers, side)) : [];
    return { strands, screen: screenOf(strands, heels) };
  }, [now, document, working]);
}

function screenOf(strands: readonly Strand[], heels: readonly At[]): Screen {
  const { across, over, under } = reachOf(strands, heels);
  const per = (WIDTH / 2 - MARGIN) / across;
  return {
    per,
    height: (over + under) * per + 2 * MARGIN,
    at: ([u, h]) => [WIDTH / 2 + u * per, MARGIN + (over - h) * per],
  };
}

function pathOf({ points, closed }: Strand, held: At, screen: Screen): string {
  const steps = points.map((p) => screen.at(seen(held, p)).map((v) => v.toFixed(1)).join());
  return steps.length > 0 ? `M${steps.join('L')}${closed ? 'Z' : ''}` : '';
}

interface MarkProps {
  readonly edge: readonly Point[];
  readonly wet: boolean;
  readonly held: At;
  readonly screen: Screen;
}

function OpeningMark({ edge, wet, held, screen }: MarkProps) {
  const points = edge.map((p) => screen.at(seen(held, p)));
  const deepest = points.reduce((a, b) => (b[1] > a[1] ? b : a));
  return (
    <g class={wet ? 'opening wet' : 'opening'}>
      {points.length > 1 && <path d={`M${points.join('L')}`} />}
      <circle cx={deepest[0].toFixed(1)} cy={deepest[1].toFixed(1)} r="4" />
    </g>
  );
}
