/** The boat from the side with her old and new water, and the freeboards at the marks. */
import type { ComponentChildren } from 'preact';
import type { ConditionResult, MarkFreeboard, Outline } from '../../contract.ts';
import { useBoat, useRoute, useViewing } from '../../session/context.tsx';
import { bothBoats } from '../answer/figures.ts';
import { comparedIn } from '../answer/floats.ts';
import type { DrawnRoom } from '../boat/rooms.ts';
import {
  type Attitude,
  type Frame,
  rulerMarks,
  type Scale,
  scaleOf,
  svgPathOf,
  upturned,
  waterAt,
  withHoles,
} from '../boat/side-view.ts';
import { pieceColours } from '../colour/paint.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { amount, quantity, signedAmount, sinkWords, trimWords } from '../words/numbers.ts';
import { lastKey, plainWords, title } from '../words/plain-words.ts';
import { isMetric, timesOf, unitAfter } from '../words/units.ts';
import { freeboardExplained, isRoomy, raisedBy } from './freeboard.ts';
import { PersonInProfile } from './person.tsx';

interface Props {
  readonly frame: Frame;
  readonly width: number;
  /** Whether it is printed: no colours, everything in ink. */
  readonly plain?: boolean;
  /** What lies within her and is drawn over her. */
  readonly rooms?: readonly DrawnRoom[];
}

export function ProfileDrawing({ frame, width, plain = false, rooms = [] }: Props) {
  const { working, condition } = useBoat();
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  const now = after ?? before;
  const scale = scaleOf(frame, width, now && upturned(now));
  const was = after && before && upturned(before) === scale.keelUp ? before : undefined;
  const marks = now ? marksOf(now, was, scale) : [];
  const up = raisedBy(working.profile.marks, scale);
  return (
    <>
      <svg
        class={`profile ${plain ? 'plain' : ''}`}
        width={width}
        height={scale.height}
        viewBox={`0 0 ${width} ${scale.height.toFixed(1)}`}
        role="img"
        aria-label={now ? spoken(title(condition), now, marks) : 'The boat from the side'}
      >
        <Waters now={now} was={was} marks={marks} frame={frame} scale={scale}>
          <Outlines scale={scale} plain={plain} />
          <PersonInProfile scale={scale} now={now} />
          {rooms.map(({ path, points, kind }) => (
            <path key={path} class={kind} d={svgPathOf(points, true, scale)}>
              <title>{title(path)}</title>
            </path>
          ))}
        </Waters>
        <Ruler frame={frame} scale={scale} />
      </svg>
      {now &&
        !plain &&
        marks.map((f) => (
          <MarkOpens key={f.mark} freeboard={f} boat={now} scale={scale} up={up.get(f.mark) ?? 0} />
        ))}
    </>
  );
}

interface WatersProps {
  readonly now: ConditionResult | undefined;
  readonly was: ConditionResult | undefined;
  readonly marks: readonly MarkFreeboard[];
  readonly frame: Frame;
  readonly scale: Scale;
  readonly children: ComponentChildren;
}

/** The water behind what is drawn of her, and its lines, marks and words before it. */
function Waters({ now, was, marks, frame, scale, children }: WatersProps) {
  const { marks: places, length_waterline_m: length } = useBoat().working.profile;
  if (!now) return <>{children}</>;
  const up = raisedBy(places, scale);
  return (
    <>
      <Sea attitude={now} frame={frame} scale={scale} length={length} />
      {children}
      {was && (
        <WaterLine kind="before" attitude={was} frame={frame} scale={scale} length={length} />
      )}
      <WaterLine kind="now" attitude={now} frame={frame} scale={scale} length={length} />
      {marks.map((f) => (
        <Mark key={f.mark} freeboard={f} attitude={now} scale={scale} up={up.get(f.mark) ?? 0} />
      ))}
      <Ends scale={scale} frame={frame} />
    </>
  );
}

/** Freeboards at the marks, with their change where she floated upright before; none keel up. */
function marksOf(
  now: ConditionResult,
  was: ConditionResult | undefined,
  scale: Scale,
): readonly MarkFreeboard[] {
  if (scale.keelUp) return [];
  return now.freeboards_at_marks.map((f) => (was ? f : { ...f, change_mm: null }));
}

const BELOW_PARTS: readonly Outline['role'][] = ['appendage', 'hull', 'chine', 'sheer'];

/** Her outlines, parts coloured by what they do. */
function Outlines({ scale, plain }: { scale: Scale; plain: boolean }) {
  const { working, scales } = useBoat();
  const { mode } = useViewing();
  const { route } = useRoute();
  const { profile, assessment } = working;
  const colours = pieceColours(plain ? 'plain' : mode, assessment, working.scene, scales);
  const order = (role: Outline['role']) => profile.outlines.filter((o) => o.role === role);
  const below = profile.outlines.filter((o) => BELOW_PARTS.includes(o.role)); // as they hide
  return (
    <>
      {below.map((o) => (
        <path key={o.id} class={o.role} d={svgPathOf(o.points_m, o.closed, scale)} />
      ))}
      {withHoles(order('part')).map((outlines, i) => {
        const id = lastKey(outlines[0]?.id ?? '');
        return (
          <path
            key={`${id}${i}`}
            class={`part ${!plain && route.picked?.part === id ? 'picked' : ''}`}
            d={outlines.map((o) => svgPathOf(o.points_m, o.closed, scale)).join('')}
            fill-rule="evenodd"
            style={colours.has(id) ? { fill: colours.get(id) } : {}}
          />
        );
      })}
      {order('existing').map((o, i) => (
        <path key={`${o.id}${i}`} class="existing" d={svgPathOf(o.points_m, o.closed, scale)} />
      ))}
    </>
  );
}

const spoken = (name: string, now: ConditionResult, marks: readonly MarkFreeboard[]) =>
  upturned(now)
    ? `The boat from the side, upside down, bow to the left, ${name.toLowerCase()}.`
    : `The boat from the side, bow to the left, ${name.toLowerCase()}. Trim ${trimWords(now.trim_mm)}. ` +
      marks
        .map((f) => `Freeboard ${plainWords(f.mark)} ${quantity(f.mean_mm, 'mm', 1)}`)
        .join(', ');

interface WaterProps {
  readonly attitude: Attitude;
  readonly frame: Frame;
  readonly scale: Scale;
  readonly length: number;
}

function ends({ attitude, frame, scale, length }: WaterProps): readonly [string, string] {
  const at = (x: number) =>
    `${scale.x(x).toFixed(1)},${scale.z(waterAt(attitude, length, x)).toFixed(1)}`;
  return [at(frame.x0), at(frame.x1)];
}

function Sea(props: WaterProps) {
  const [left, right] = ends(props);
  const { width, height } = props.scale;
  return <path class="sea" d={`M${left}L${right}L${width},${height}L0,${height}Z`} />;
}

function WaterLine({ kind, ...props }: WaterProps & { kind: 'before' | 'now' }) {
  const [left, right] = ends(props);
  return <path class={`waterline ${kind}`} d={`M${left}L${right}`} />;
}

function Mark({
  freeboard,
  attitude,
  scale,
  up,
}: {
  freeboard: MarkFreeboard;
  attitude: Attitude;
  scale: Scale;
  up: number;
}) {
  const { working } = useBoat();
  const mark = working.profile.marks.find((m) => m.id === freeboard.mark);
  if (!mark) return null;
  const x = scale.x(mark.x_m);
  const top = scale.z(mark.sheer_z_m);
  const water = scale.z(waterAt(attitude, working.profile.length_waterline_m, mark.x_m));
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

/** What opens a freeboard, laid over its number in the drawing. */
function MarkOpens({
  freeboard,
  boat,
  scale,
  up,
}: {
  freeboard: MarkFreeboard;
  boat: ConditionResult;
  scale: Scale;
  up: number;
}) {
  const { working } = useBoat();
  const mark = working.profile.marks.find((m) => m.id === freeboard.mark);
  if (!mark) return null;
  const x = scale.x(mark.x_m);
  const water = scale.z(waterAt(boat, working.profile.length_waterline_m, mark.x_m));
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

const isLeft = (x: number, scale: Scale) => x > scale.width * 0.72;

const NARROWEST = 34; // [px] a metre
const NO_CHANGE = { sinkage_bow_mm: null, sinkage_stern_mm: null };

/** How far the water has moved at both ends, in words. */
function Ends({ scale, frame }: { scale: Scale; frame: Frame }) {
  const { working, condition } = useBoat();
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  if (!after || !before || !isRoomy(scale)) return null;
  if (upturned(after) || upturned(before)) return null;
  const length = working.profile.length_waterline_m;
  const { sinkage_bow_mm: bow, sinkage_stern_mm: stern } = after.change ?? NO_CHANGE;
  if (bow === null || stern === null) return null;
  const y = (x: number) =>
    Math.max(scale.z(waterAt(after, length, x)), scale.z(waterAt(before, length, x))) + 15;
  return (
    <g class="ends">
      <text x={6} y={y(frame.x0)}>
        bow {sinkWords(bow)}
      </text>
      <text x={scale.width - 6} y={y(frame.x1)} text-anchor="end">
        stern {sinkWords(stern)}
      </text>
    </g>
  );
}

function Ruler({ frame, scale }: { frame: Frame; scale: Scale }) {
  const y = scale.height;
  // a mark for every metre or foot
  const times = timesOf('m');
  const labelled = isMetric() ? 5 : 10;
  return (
    <g class="ruler" aria-hidden="true">
      {rulerMarks(frame, times).map((n) => (
        <g key={n}>
          <path d={`M${scale.x(n / times).toFixed(1)},${y}v${n % 5 === 0 ? -7 : -4}`} />
          {n % labelled === 0 && (
            <text x={scale.x(n / times) + 3} y={y - 3}>
              {n === 0 && isRoomy(scale) ? '0 forward perpendicular' : `${n}${unitAfter('m')}`}
            </text>
          )}
        </g>
      ))}
    </g>
  );
}
