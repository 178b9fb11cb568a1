/** A freeboard mark on the side view, its figure, and what opens it. */
import type { ConditionResult, MarkFreeboard } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { type Attitude, type Scale, waterAt } from '../boat/side-view.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { amount, quantity, signedAmount } from '../words/numbers.ts';
import { plainWords } from '../words/plain-words.ts';
import { freeboardExplained, isRoomy, raisedBy } from './freeboard.ts';

const NARROWEST = 34;

interface MarkProps {
  readonly freeboard: MarkFreeboard;
  readonly scale: Scale;
  /** How much higher than usual its words stand [px]. */
  readonly up: number;
}

/** Where a mark stands on the drawing, from the sheer to the water [px]. */
function useMark({ mark: id }: MarkFreeboard, attitude: Attitude, scale: Scale) {
  const { marks, length_waterline_m: length } = useBoat().working.profile;
  const mark = marks.find((one) => one.id === id);
  if (!mark) return undefined;
  const water = scale.z(waterAt(attitude, length, mark.x_m));
  return { x: scale.x(mark.x_m), top: scale.z(mark.sheer_z_m), water };
}

export function FreeboardMark({
  freeboard,
  attitude,
  scale,
  up,
}: MarkProps & { readonly attitude: Attitude }) {
  const mark = useMark(freeboard, attitude, scale);
  if (!mark) return null;
  const { x, top, water } = mark;
  const { change_mm: change } = freeboard;
  const roomy = isRoomy(scale);
  const left = isLeft(x, scale);
  const text = { x: left ? x - 7 : x + 7, 'text-anchor': left ? 'end' : 'start' } as const;
  return (
    <g class="mark">
      <path d={`M${x},${top}V${water}M${x - 4},${top}H${x + 4}M${x - 4},${water}H${x + 4}`} />
      <text {...text} y={water - up - (roomy ? 18 : 6)}>
        {roomy ? quantity(freeboard.mean_mm, 'mm', 1) : amount(freeboard.mean_mm, 'mm', 1)}
        {change !== null && scale.perMetre > NARROWEST && (
          <tspan class="change"> {signedAmount(change, 'mm', 1)}</tspan>
        )}
      </text>
      {roomy && (
        <text {...text} class="name" y={water - up - 6}>
          freeboard {plainWords(freeboard.mark)}
        </text>
      )}
    </g>
  );
}

interface MarksOpenProps {
  readonly marks: readonly MarkFreeboard[];
  readonly boat: ConditionResult;
  readonly scale: Scale;
}

/** What opens the freeboards, laid over the drawing. */
export function MarksOpen({ marks, boat, scale }: MarksOpenProps) {
  const up = raisedBy(useBoat().working.profile.marks, scale);
  return (
    <>
      {marks.map((f) => (
        <MarkOpens key={f.mark} freeboard={f} boat={boat} scale={scale} up={up.get(f.mark) ?? 0} />
      ))}
    </>
  );
}

/** What opens a freeboard, laid over its number in the drawing. */
function MarkOpens({ freeboard, boat, scale, up }: MarkProps & { readonly boat: ConditionResult }) {
  const mark = useMark(freeboard, boat, scale);
  if (!mark) return null;
  const { x, water } = mark;
  const [wide, tall] = isRoomy(scale) ? [128, 34] : [64, 26];
  const left = isLeft(x, scale) ? x - wide - 2 : x + 2;
  return (
    <span
      class="mark-opens"
      style={`left:${left}px;top:${water - up - tall}px;width:${wide}px;height:${tall}px`}
    >
      <ExplainButton explained={freeboardExplained(boat, freeboard)}>
        <span class="unseen">
          Freeboard {plainWords(freeboard.mark)} {quantity(freeboard.mean_mm, 'mm', 1)}
        </span>
      </ExplainButton>
    </span>
  );
}

/** Whether the words of a mark stand to its left. */
const isLeft = (x: number, scale: Scale) => x > scale.width * 0.72;
