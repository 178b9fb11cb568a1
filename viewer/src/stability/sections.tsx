/** The boat held at a heel as her sections, seen from astern along the water. */
import { useId, useMemo, useRef } from 'preact/hooks';
import type { ConditionResult } from '../contract.ts';
import { useBoat } from '../session/context.tsx';
import { reachOf, type Strand, seen, strandsOf } from '../shared/boat/heeled.ts';
import type { Level } from '../shared/boat/level.ts';
import { type Held, levelsOf } from '../shared/boat/levers.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import { heelWords } from '../shared/words/numbers.ts';
import { Forces, leverWords } from './forces.tsx';
import { OpeningMark } from './opening-mark.tsx';
import { turnedBy } from './turning.ts';

const WIDTH = 400;
const MARGIN = 10;
/** How far the sea goes on to both sides, where the window is wider than the drawing. */
const SEA = 3 * WIDTH;

interface Screen {
  readonly per: number;
  readonly height: number;
  readonly at: (point: FlatPoint) => FlatPoint;
}

interface Props {
  readonly now: ConditionResult;
  readonly held: Held;
  /** Takes the heel that she is turned to by hand [whole degrees]. */
  readonly turn: (heel: number) => void;
}

export function Sections({ now, held, turn }: Props) {
  const { strands, screen } = useStrands(now);
  const [, water] = screen.at([0, 0]);
  const grip = useTurning(held.heel, turn, screen.at([0, 0]));
  const below = useId();
  const sea = `M${-SEA},${water}H${SEA}V${2 * screen.height}H${-SEA}Z`;
  const words = `Her sections from astern, ${heelWords(held.heel, 1)}: ${leverWords(held.gz)}`;
  return (
    <svg
      class="sections"
      viewBox={`0 0 ${WIDTH} ${screen.height.toFixed(0)}`}
      role="img"
      aria-label={words}
      {...grip}
    >
      <path class="sea" d={sea} />
      <clipPath id={below}>
        <path d={sea} />
      </clipPath>
      <g clip-path={`url(#${below})`}>
        {strands.map(
          (strand, i) =>
            FILLED.includes(strand.kind) && (
              <path key={i} class="immersed" d={pathOf(strand, held, screen)} />
            ),
        )}
      </g>
      {strands.map((strand, i) => (
        <path key={i} class={strand.kind} d={pathOf(strand, held, screen)} />
      ))}
      <path class="waterline" d={`M${-SEA},${water}H${SEA}`} />
      {now.openings.map((opening) => (
        <OpeningMark
          key={`${opening.id} ${opening.side}`}
          opening={opening}
          under={held.under.includes(opening)}
          spots={opening.edge_m.map((p) => screen.at(seen(held, p)))}
        />
      ))}
      <Forces held={held} at={screen.at} height={screen.height} />
      <text x={6} y={screen.height - 8}>
        port
      </text>
      <text x={WIDTH - 6} y={screen.height - 8} text-anchor="end">
        starboard
      </text>
    </svg>
  );
}

/** What displaces water as a closed outline; every station lays its own tint over the others. */
const FILLED: readonly Strand['kind'][] = ['section', 'midship', 'house'];

type SectionPress = PointerEvent & { readonly currentTarget: SVGSVGElement };

/** Turning her by hand about the middle of the water; a finger that goes up or down scrolls. */
function useTurning(heel: number, turn: (heel: number) => void, [cx, cy]: FlatPoint) {
  const grip = useRef<{ readonly from: FlatPoint; readonly heel: number }>(undefined);
  const spot = (e: SectionPress): FlatPoint => {
    const onScreen = e.currentTarget.getScreenCTM()?.inverse();
    const { x, y } = new DOMPoint(e.clientX, e.clientY).matrixTransform(onScreen);
    return [x - cx, y - cy];
  };
  const leave = () => {
    grip.current = undefined;
  };
  return {
    onPointerDown: (e: SectionPress) => {
      if (e.button !== 0) return;
      e.currentTarget.setPointerCapture(e.pointerId);
      grip.current = { from: spot(e), heel };
    },
    onPointerMove: (e: SectionPress) => {
      if (!grip.current) return;
      const { from, heel: begun } = grip.current;
      turn(turnedBy(begun, from, spot(e)));
    },
    onPointerUp: leave,
    onPointerCancel: leave,
  };
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
