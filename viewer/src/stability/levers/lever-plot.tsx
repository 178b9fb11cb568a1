/** Righting levers over heel: as drawn and as found, with what happens at which heel. */
import { useMemo, useRef } from 'preact/hooks';
import type { ConditionResult } from '../../contract.ts';
import { heldAt, toSide } from '../../shared/boat/levers.ts';
import { useWidth } from '../../shared/feedback/use-width.ts';
import { number } from '../../shared/words/numbers.ts';
import { timesOf, unitSign } from '../../shared/words/units.ts';
import { flagsOf } from './lever-flags.ts';
import {
  type Also,
  AREAS,
  areaPath,
  bandPath,
  type Curves,
  curvePath,
  inRows,
  LANE,
  outwards,
  type PlacedFlag,
  type Plane,
  planeOf,
  rulings,
  type Span,
  sidesOf,
} from './plot.ts';

const HEIGHT = 320;
const LETTER = 6.5;
/** Width below which the drawing has room for few words [px]. */
const NARROW_DRAWING = 520;

interface Props {
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
  readonly span: Span;
  readonly heel: number;
  readonly setHeel: (heel: number) => void;
  /** The heel and what is read there, in words. */
  readonly summary: string;
  readonly also: Also;
}

export function LeverPlot({ now, before, span, heel, setHeel, summary, also }: Props) {
  const [sheet, width] = useWidth<HTMLDivElement>(700);
  const levers = now.held;
  const old = before?.held ?? undefined;
  const { plane, flags } = useMemo(() => laidOut(now, old, span, width), [now, old, span, width]);
  const drawing = useMemo(
    () => levers && <Drawing now={now} levers={levers} old={old} plane={plane} also={also} />,
    [now, old, plane, also],
  );
  const keys = useKeys(heel, setHeel, plane);
  const held = useRef(false);
  if (!levers) return null;
  const at = heldAt(now, heel);
  const point = (e: PointerEvent & { currentTarget: HTMLElement }) => {
    const left = e.currentTarget.getBoundingClientRect().left;
    if (e.pointerType === 'mouse' || held.current) setHeel(plane.heel(e.clientX - left));
  };
  return (
    <div
      ref={sheet}
      class="lever-plot"
      role="slider"
      tabIndex={0}
      aria-label="Heel, on the plot of righting levers"
      aria-valuemin={Math.min(...plane.ends)}
      aria-valuemax={Math.max(...plane.ends)}
      aria-valuenow={heel}
      aria-valuetext={summary}
      onKeyDown={keys}
      onPointerMove={point}
      onPointerDown={(e) => {
        held.current = true;
        point(e);
      }}
      onPointerUp={() => (held.current = false)}
      onPointerCancel={() => (held.current = false)}
    >
      <svg viewBox={`0 0 ${width} ${plane.height}`} width={width} height={plane.height} data-levers>
        {drawing}
        <FlagLines flags={flags} plane={plane} />
        <FlagWords flags={flags} plane={plane} />
        {at && <Pointer plane={plane} heel={heel} gz={at.gz} />}
      </svg>
    </div>
  );
}

function useKeys(heel: number, setHeel: (heel: number) => void, plane: Plane) {
  return (e: KeyboardEvent) => {
    const out = outwards(plane.ends);
    const steps: Readonly<Record<string, number>> = {
      ArrowRight: heel + out,
      ArrowUp: heel + out,
      ArrowLeft: heel - out,
      ArrowDown: heel - out,
      PageUp: heel + 10 * out,
      PageDown: heel - 10 * out,
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
  const sheet = { span, width, height: HEIGHT };
  const words = (text: string) => text.length * LETTER;
  const flags = inRows(flagsOf(now, span), planeOf(curves, sheet), words);
  const lanes = Math.max(0, ...flags.map((f) => f.row + 1));
  return { flags, plane: planeOf(curves, { ...sheet, lanes }) };
}

interface DrawingProps {
  readonly now: ConditionResult;
  readonly levers: Curves;
  readonly old: Curves | undefined;
  readonly plane: Plane;
  readonly also: Also;
}

function Drawing({ now, levers, old, plane, also }: DrawingProps) {
  const worse = now.worse_side ?? 'starboard';
  const areas = sidesOf(plane.span).includes(worse) ? AREAS : [];
  return (
    <>
      {areas.map((ends) => (
        <path
          key={ends[0]}
          class={`area from-${ends[0]}`}
          d={areaPath(plane, levers, worse, ends)}
        />
      ))}
      <Ruled plane={plane} />
      <path class="band" d={bandPath(plane, levers)} />
      {old && also.bareBefore && (
        <path class="curve before bare" d={curvePath(plane, old, 'gz_without_house_m')} />
      )}
      {old && <path class="curve before" d={curvePath(plane, old, 'gz_m')} />}
      <path class="curve bare" d={curvePath(plane, levers, 'gz_without_house_m')} />
      {also.dry && <path class="curve dry" d={curvePath(plane, levers, 'gz_well_dry_m')} />}
      {now.wells_full && (
        <path class="curve filled" d={curvePath(plane, levers, 'gz_wells_full_m')} />
      )}
      <path class="curve now" d={curvePath(plane, levers, 'gz_m')} />
    </>
  );
}

function Ruled({ plane }: { plane: Plane }) {
  const { heels, levers } = rulings(plane, plane.width < NARROW_DRAWING);
  const [left, right] = [plane.x(plane.ends[0]), plane.x(plane.ends[1])];
  const floor = plane.y(plane.range[0]);
  return (
    <g class="ruled">
      {levers.map((lever) => (
        <g key={lever}>
          <path
            class={Math.abs(lever) < 1e-9 ? 'zero' : ''}
            d={`M${left},${plane.y(lever).toFixed(1)}H${right}`}
          />
          <text x={left - 6} y={plane.y(lever) + 4} text-anchor="end">
            {number(lever * timesOf('m'), plane.step * timesOf('m'))}
          </text>
        </g>
      ))}
      {heels.map((heel) => (
        <g key={heel}>
          <path d={`M${plane.x(heel).toFixed(1)},${plane.y(plane.range[1])}V${floor}`} />
          <text x={plane.x(heel)} y={floor + 14} text-anchor="middle">
            {Math.abs(heel)}°
          </text>
        </g>
      ))}
      <text x={left + 5} y={plane.y(plane.range[1]) + 12}>
        lever, {unitSign('m')}
      </text>
      {sidesOf(plane.span).map((side) => (
        <text key={side} x={plane.x(toSide(165, side))} y={floor - 6} text-anchor="middle">
          to {side}
        </text>
      ))}
    </g>
  );
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
        x={plane.x(flag.heel) + (flag.anchor === 'start' ? 4 : -4)}
        y={wordsAt(plane, flag)}
        text-anchor={flag.anchor}
      >
        {flag.words}
      </text>
    ))}
  </g>
);

function Pointer({ plane, heel, gz }: { plane: Plane; heel: number; gz: number }) {
  const x = plane.x(heel).toFixed(1);
  return (
    <g class="pointer" data-passing>
      <path d={`M${x},${plane.y(plane.range[1])}V${plane.y(plane.range[0])}`} />
      <circle cx={x} cy={plane.y(gz).toFixed(1)} r="4" />
    </g>
  );
}
