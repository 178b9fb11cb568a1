/** Righting levers over heel: as drawn and as found, with what happens at which heel. */
import { useMemo, useRef, useState } from 'preact/hooks';
import type { ConditionResult } from '../../contract.ts';
import { heldAt } from '../../shared/boat/levers.ts';
import { useSize } from '../../shared/feedback/use-size.ts';
import { LeverDrawing } from './drawing.tsx';
import { flagsOf, shownOf } from './lever-flags.ts';
import {
  type Also,
  type Curves,
  type Flag,
  inRows,
  LANE,
  nearestFlag,
  outwards,
  type PlacedFlag,
  type Plane,
  planeOf,
  type Span,
} from './plot.ts';

/** Share of the window's height, at least and at most [px]. */
const HEIGHT = { share: 0.37, least: 230, most: 420 } as const;
const LETTER = 6.5;
/** How near to a tick the pointer is on it [px]. */
const ON_TICK = 6;

interface Props {
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
  readonly span: Span;
  readonly heel: number;
  readonly setHeel: (heel: number) => void;
  /** The heel and what is read there, in words. */
  readonly summary: string;
  readonly also: Also;
  /** A flag that is asked for in the list beside it. */
  readonly asked: Flag | undefined;
}

export function LeverPlot({ now, before, span, heel, setHeel, summary, also, asked }: Props) {
  const [sheet, width] = useSize<HTMLDivElement>(700);
  const levers = now.held;
  const old = before?.held ?? undefined;
  const { plane, flags, ticks } = useMemo(
    () => laidOut(now, old, span, width),
    [now, old, span, width],
  );
  const drawing = useMemo(
    () => levers && <LeverDrawing now={now} levers={levers} old={old} plane={plane} also={also} />,
    [now, old, plane, also],
  );
  const keys = useKeys(heel, setHeel, plane);
  const { pointer, hovered } = usePointer(setHeel, plane, ticks);
  if (!levers) return null;
  const at = heldAt(now, heel);
  const named = ticks.find((tick) => tick.words === asked?.words) ?? hovered;
  return (
    <div
      ref={sheet}
      class="lever-plot"
      role="slider"
      tabIndex={0}
      aria-label="Heel, on the plot of righting levers"
      aria-valuemin={Math.min(...plane.ends)}
      aria-valuemax={Math.max(...plane.ends)}
      aria-valuenow={Math.round(heel)}
      aria-valuetext={summary}
      onKeyDown={keys}
      {...pointer}
    >
      <svg viewBox={`0 0 ${width} ${plane.height}`} width={width} height={plane.height} data-levers>
        {drawing}
        <Ticks ticks={ticks} plane={plane} />
        <FlagLines flags={flags} plane={plane} />
        <FlagWords flags={flags} plane={plane} />
        {named && <TickName tick={named} plane={plane} />}
        {at && <Pointer plane={plane} heel={heel} gz={at.gz} />}
      </svg>
    </div>
  );
}

type PlotPress = PointerEvent & { readonly currentTarget: HTMLElement };

/** Dragging along the curve heels her; a tick under the pointer says its name. */
function usePointer(setHeel: (heel: number) => void, plane: Plane, ticks: readonly Flag[]) {
  const held = useRef(false);
  const [hovered, setHovered] = useState<Flag>();
  const leave = () => {
    held.current = false;
  };
  const point = (e: PlotPress) => {
    const x = e.clientX - e.currentTarget.getBoundingClientRect().left;
    if (held.current) setHeel(plane.heel(x));
    setHovered(nearestFlag(ticks, plane, x, ON_TICK));
  };
  const pointer = {
    onPointerMove: point,
    onPointerDown: (e: PlotPress) => {
      if (e.button !== 0) return;
      held.current = true;
      e.currentTarget.setPointerCapture(e.pointerId);
      point(e);
    },
    onPointerUp: leave,
    onPointerCancel: leave,
    onPointerLeave: () => setHovered(undefined),
  };
  return { pointer, hovered };
}

function useKeys(heel: number, setHeel: (heel: number) => void, plane: Plane) {
  return (e: KeyboardEvent) => {
    const out = outwards(plane.ends);
    const at = Math.round(heel);
    const steps: Readonly<Record<string, number>> = {
      ArrowRight: at + out,
      ArrowUp: at + out,
      ArrowLeft: at - out,
      ArrowDown: at - out,
      PageUp: at + 10 * out,
      PageDown: at - 10 * out,
      Home: plane.ends[0],
      End: plane.ends[1],
    };
    const to = steps[e.key];
    if (to === undefined || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    setHeel(Math.min(Math.max(...plane.ends), Math.max(Math.min(...plane.ends), to)));
  };
}

function laidOut(now: ConditionResult, old: Curves | undefined, span: Span, width: number) {
  const curves = [now.held ?? {}, old ?? {}];
  const { share, least, most } = HEIGHT;
  const height = Math.round(Math.min(most, Math.max(least, share * innerHeight)));
  const sheet = { span, width, height };
  const words = (text: string) => text.length * LETTER;
  const { shown, ticks } = shownOf(flagsOf(now, span));
  const flags = inRows(shown, planeOf(curves, sheet), words);
  const lanes = Math.max(0, ...flags.map((f) => f.row + 1));
  return { flags, ticks, plane: planeOf(curves, { ...sheet, lanes }) };
}

interface FlagsProps {
  readonly flags: readonly PlacedFlag[];
  readonly plane: Plane;
}

const wordsAt = ({ y, range }: Plane, { row }: PlacedFlag) => y(range[0]) + 32 + row * LANE;

const FlagLines = ({ flags, plane }: FlagsProps) => (
  <g>
    {flags.map((flag) => (
      <path
        key={`${flag.kind} ${flag.words}`}
        class={`flag ${flag.kind}`}
        d={`M${plane.x(flag.heel).toFixed(1)},${plane.y(0).toFixed(1)}V${wordsAt(plane, flag)}`}
      />
    ))}
  </g>
);

/** Above all lines, on a rim of paper, so that they stay readable. */
const FlagWords = ({ flags, plane }: FlagsProps) => (
  <g>
    {flags.map((flag) => (
      <text
        key={`${flag.kind} ${flag.words}`}
        class={`flag-words ${flag.kind}`}
        x={flag.at + (flag.anchor === 'start' ? 4 : -4)}
        y={wordsAt(plane, flag)}
        text-anchor={flag.anchor}
      >
        {flag.words}
      </text>
    ))}
  </g>
);

/** What else happens at a heel: a tick on the axis. */
const Ticks = ({ ticks, plane }: { ticks: readonly Flag[]; plane: Plane }) => (
  <g class="ticks" data-passing>
    {ticks.map((tick) => (
      <path
        key={`${tick.kind} ${tick.words}`}
        d={`M${plane.x(tick.heel).toFixed(1)},${(plane.y(0) - 4).toFixed(1)}v8`}
      />
    ))}
  </g>
);

function TickName({ tick, plane }: { tick: Flag; plane: Plane }) {
  const x = plane.x(tick.heel);
  const isLeft = x + tick.words.length * LETTER > plane.width;
  return (
    <g class="tick-name" data-passing>
      <path d={`M${x.toFixed(1)},${plane.y(plane.range[1])}V${plane.y(plane.range[0])}`} />
      <text
        class="flag-words"
        x={x + (isLeft ? -5 : 5)}
        y={plane.y(0) - 10}
        text-anchor={isLeft ? 'end' : 'start'}
      >
        {tick.words}
      </text>
    </g>
  );
}

function Pointer({ plane, heel, gz }: { plane: Plane; heel: number; gz: number }) {
  const x = plane.x(heel).toFixed(1);
  return (
    <g class="pointer" data-passing>
      <path d={`M${x},${plane.y(plane.range[1])}V${plane.y(plane.range[0])}`} />
      <circle cx={x} cy={plane.y(gz).toFixed(1)} r="4" />
    </g>
  );
}
