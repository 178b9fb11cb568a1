/** A freeboard mark on the side view, its figure, and what opens it. */
import type { ConditionResult, MarkFreeboard } from '../../contract.ts';
import type { FlatPoint } from '../boat/points.ts';
import type { Scale } from '../boat/side-view.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { amount, quantity, signedAmount } from '../words/numbers.ts';
import { freeboardExplained, isRoomy, type WordsPlace } from './freeboard.ts';

/** Below so many pixels a metre a freeboard stands without its change. */
const NARROWEST = 28;

/** A mark in the drawing, from the sheer down to the water, and where its words stand [px]. */
export interface DrawnMark {
  readonly freeboard: MarkFreeboard;
  /** Its mark, and that it is the mean of both sides where they differ to speak of. */
  readonly name: string;
  readonly top: number;
  readonly spot: FlatPoint;
  readonly words: WordsPlace;
}

export function FreeboardMark({ drawn, scale }: { drawn: DrawnMark; scale: Scale }) {
  const { freeboard, top, words } = drawn;
  const [x, water] = drawn.spot;
  const { change_mm: change } = freeboard;
  const roomy = isRoomy(scale);
  const text = words.isLeft
    ? ({ x: x - words.away, 'text-anchor': 'end' } as const)
    : ({ x: x + words.away, 'text-anchor': 'start' } as const);
  const low = water - words.up - 6;
  return (
    <g class="mark">
      <path d={`M${x},${top}V${water}M${x - 4},${top}H${x + 4}M${x - 4},${water}H${x + 4}`} />
      <text {...text} y={roomy ? low - 12 : low}>
        {roomy ? quantity(freeboard.mean_mm, 'mm', 1) : amount(freeboard.mean_mm, 'mm', 1)}
        {change !== null && scale.perMetre > NARROWEST && (
          <tspan class="change"> {signedAmount(change, 'mm', 1)}</tspan>
        )}
      </text>
      {roomy && (
        <text {...text} class="name" y={low}>
          freeboard {drawn.name}
        </text>
      )}
    </g>
  );
}

interface OpensProps {
  readonly drawn: DrawnMark;
  readonly boat: ConditionResult;
  readonly scale: Scale;
}

/** What opens a freeboard, laid over its number in the drawing. */
export function MarkOpens({ drawn: { freeboard, name, spot, words }, boat, scale }: OpensProps) {
  const [x, water] = spot;
  const [wide, tall] = isRoomy(scale) ? [128, 34] : [64, 26];
  const left = words.isLeft ? x - words.away - wide + 5 : x + words.away - 5;
  return (
    <span
      class="mark-opens"
      style={`left:${left}px;top:${water - words.up - tall}px;width:${wide}px;height:${tall}px`}
    >
      <ExplainButton explained={freeboardExplained(boat, freeboard)}>
        <span class="unseen">
          Freeboard {name} {quantity(freeboard.mean_mm, 'mm', 1)}
        </span>
      </ExplainButton>
    </span>
  );
}
