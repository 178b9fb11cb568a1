/** The boat from the side with her old and new water, and the freeboards at the marks. */
import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { ConditionResult, MarkFreeboard, Outline } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { isHeld } from '../../session/working-copy/gesture.ts';
import { bothBoats } from '../answer/figures.ts';
import { comparedIn } from '../answer/floats.ts';
import { lists } from '../answer/lowest-freeboard.ts';
import type { FlatPoint } from '../boat/points.ts';
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
} from '../boat/side-view.ts';
import { number, quantity, sinkWords, trimWords } from '../words/numbers.ts';
import { plainWords, title } from '../words/plain-words.ts';
import { isMetric, timesOf, unitAfter } from '../words/units.ts';
import { isRoomy, placesOfWords } from './freeboard.ts';
import { PartHandles, usePartHandles } from './handles.tsx';
import { MarkGrips } from './mark-grips.tsx';
import { type DrawnMark, FreeboardMark, MarkOpens } from './marks.tsx';
import { Outlines } from './outlines.tsx';
import { PersonInProfile } from './person.tsx';

/** Dimensions of new parts, measured freeboards, or nothing. */
export type Grasped = 'parts' | 'marks' | 'nothing';

interface Props {
  readonly frame: Frame;
  readonly width: number;
  /** Whether it is printed: no colours, everything in ink. */
  readonly plain?: boolean;
  /** What lies within her and is drawn over her. */
  readonly rooms?: readonly DrawnRoom[];
  /** What can be dragged in it. */
  readonly grasped?: Grasped;
}

export function ProfileDrawing({
  frame,
  width,
  plain = false,
  rooms = NO_ROOMS,
  grasped = 'parts',
}: Props) {
  const { working, condition } = useBoat();
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  const now = after ?? before;
  const scale = scaleOf(frame, width, now && upturned(now));
  const was = after && before && upturned(before) === scale.keelUp ? before : undefined;
  const handles = usePartHandles(scale, grasped === 'parts' && !plain);
  const marks = useMarks(now, was, scale, handles);
  const [ghost, setGhost] = useState<readonly Outline[]>([]);
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
          <Rooms rooms={rooms} scale={scale} />
          {ghost.map((o, i) => (
            <path key={i} class="ghost" d={svgPathOf(o.points_m, o.closed, scale)} />
          ))}
        </Waters>
        <Ruler frame={frame} scale={scale} />
      </svg>
      {!plain && <Laid {...{ now, marks, handles, scale, grasped }} ghost={setGhost} />}
    </>
  );
}

interface LaidProps {
  readonly now: ConditionResult | undefined;
  readonly marks: readonly DrawnMark[];
  readonly handles: ReturnType<typeof usePartHandles>;
  readonly scale: Scale;
  readonly grasped: Grasped;
  readonly ghost: (outlines: readonly Outline[]) => void;
}

/** What is pressed and dragged, laid over the drawing. */
const Laid = ({ now, marks, handles, scale, grasped, ghost }: LaidProps) => (
  <>
    {now &&
      marks.map((one) => (
        <MarkOpens key={one.freeboard.mark} drawn={one} boat={now} scale={scale} />
      ))}
    {grasped === 'parts' && <PartHandles {...{ handles, scale, ghost }} />}
    {grasped === 'marks' && <MarkGrips scale={scale} />}
  </>
);

const NO_ROOMS: readonly DrawnRoom[] = [];

const Rooms = ({ rooms, scale }: { rooms: readonly DrawnRoom[]; scale: Scale }) => (
  <>
    {rooms.map(({ path, points, kind }) => (
      <path key={path} class={kind} d={svgPathOf(points, true, scale)}>
        <title>{title(path)}</title>
      </path>
    ))}
  </>
);

interface WatersProps {
  readonly now: ConditionResult | undefined;
  readonly was: ConditionResult | undefined;
  readonly marks: readonly DrawnMark[];
  readonly frame: Frame;
  readonly scale: Scale;
  readonly children: ComponentChildren;
}

/** The water behind what is drawn of her, and its lines, marks and words before it. */
function Waters({ now, was, marks, frame, scale, children }: WatersProps) {
  const { length_waterline_m: length } = useBoat().working.profile;
  if (!now) return <>{children}</>;
  return (
    <>
      <Sea attitude={now} frame={frame} scale={scale} length={length} />
      {children}
      {was && (
        <WaterLine kind="before" attitude={was} frame={frame} scale={scale} length={length} />
      )}
      <WaterLine kind="now" attitude={now} frame={frame} scale={scale} length={length} />
      {marks.map((one) => (
        <FreeboardMark key={one.freeboard.mark} drawn={one} scale={scale} />
      ))}
      <Ends scale={scale} frame={frame} />
    </>
  );
}

/** Freeboards at the marks, with their change where she floated upright before; none keel up. */
function freeboardsOf(now: ConditionResult, was: ConditionResult | undefined) {
  return now.freeboards_at_marks.map((f): MarkFreeboard => (was ? f : { ...f, change_mm: null }));
}

/** The marks as they are drawn; under a hand their words stay clear of where the handles were. */
function useMarks(
  now: ConditionResult | undefined,
  was: ConditionResult | undefined,
  scale: Scale,
  handles: readonly { readonly spot: FlatPoint }[],
): readonly DrawnMark[] {
  const { marks, length_waterline_m: length } = useBoat().working.profile;
  const clear = useRef<readonly FlatPoint[]>([]);
  if (!isHeld()) clear.current = handles.map(({ spot }) => spot);
  if (!now || scale.keelUp) return [];
  const placed = freeboardsOf(now, was).flatMap((freeboard) => {
    const mark = marks.find(({ id }) => id === freeboard.mark);
    if (!mark) return [];
    const water = scale.z(waterAt(now, length, mark.x_m));
    const spot: FlatPoint = [scale.x(mark.x_m), water];
    const name = `${plainWords(mark.id)}${lists(now) ? ', mean' : ''}`;
    return [{ freeboard, name, id: mark.id, spot, top: scale.z(mark.sheer_z_m) }];
  });
  const words = placesOfWords(placed, scale, clear.current);
  return placed.flatMap((one) => {
    const place = words.get(one.id);
    return place ? [{ ...one, words: place }] : [];
  });
}

const spoken = (name: string, now: ConditionResult, marks: readonly DrawnMark[]) =>
  upturned(now)
    ? `The boat from the side, upside down, bow to the left, ${name.toLowerCase()}.`
    : `The boat from the side, bow to the left, ${name.toLowerCase()}. Trim ${trimWords(now.trim_mm)}. ` +
      marks
        .map((mark) => `Freeboard ${mark.name} ${quantity(mark.freeboard.mean_mm, 'mm', 1)}`)
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
              {n === 0 && isRoomy(scale)
                ? '0 forward perpendicular'
                : number(n, 1) + unitAfter('m')}
            </text>
          )}
        </g>
      ))}
    </g>
  );
}
