/** The balance beam below the boat: new weights stand on it, those taken off hang below it. */
import { useRef, useState } from 'preact/hooks';
import type { ConditionResult } from '../contract.ts';
import { useBoat, useEditing, useRoute, useSnapshot } from '../session/context.tsx';
import { isHeld } from '../session/working-copy/gesture.ts';
import { reasonsAt, type Snapshot } from '../session/working-copy/snapshot.ts';
import { bothBoats } from '../shared/answer/figures.ts';
import { comparedIn } from '../shared/answer/floats.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import { type Frame, type Scale, scaleOf, upturned } from '../shared/boat/side-view.ts';
import { trimColour } from '../shared/colour/colour.ts';
import { isHatched } from '../shared/colour/paint.ts';
import { ExplainButton } from '../shared/explain/explain-button.tsx';
import type { Explained, ExplanationLine } from '../shared/explain/explanation-card.tsx';
import { Hint } from '../shared/feedback/hint.tsx';
import { asDrawn } from '../shared/grasp/weight.ts';
import { kilograms, quantity, trimEffectWords } from '../shared/words/numbers.ts';
import { title } from '../shared/words/plain-words.ts';
import { type Ghost, NoRange, Ranges, useMovable, WeightGrips } from './beam-grips.tsx';
import { beamWeightsOf, type PlacedWeight, stacked, tilt } from './beam-weights.ts';

const LARGEST_PX = 18;
const TILT_TIMES = 10;
const ROOM = 15;
const ROOM_BELOW = 10;
const STEP_PX = 10;
const ROOM_PX = 4;
const KEPT_PX = 40;
const DRAG_PX = 8;

export function Beam({ frame, width }: { frame: Frame; width: number }) {
  const { working, scales, effects } = useBoat();
  const { assessment } = working;
  const { readOnly } = useEditing();
  const snapshot = useSnapshot();
  const [ghost, setGhost] = useState<Ghost>();
  const [stuck, setStuck] = useState<PlacedWeight>();
  const scale = scaleOf(frame, width);
  const items = asDrawn(assessment.items, (path) => draftOf(snapshot, path));
  const weights = beamWeightsOf({ ...assessment, items });
  const placed = stacked(weights, scale.x, LARGEST_PX).toSorted((a, b) => a.x - b.x);
  const { height, pivot, line, tiltDeg, way, spotOf } = useTipped(placed, scale);
  const movable = useMovable(readOnly ? [] : items, placed, way);
  const effectOf = (weight: PlacedWeight) =>
    assessment.parts.find((p) => weight.path === `changes.${p.change}.parts.${p.id}`)?.effect ??
    effects.get(weight.path);
  return (
    <section class="beam" aria-label="Balance beam">
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="group"
        aria-label="Weights along the boat"
      >
        <g transform={`translate(0 ${line}) rotate(${tiltDeg.toFixed(3)} ${pivot} 0)`}>
          <path class="beam-line" d={`M0,0H${width}`} />
          <Ranges movable={movable} scale={scale} ghost={ghost} />
          <BeamWeights
            placed={placed}
            colourOf={(c) => trimColour(effectOf(c)?.trim_mm ?? 0, scales.trimTop)}
            trimOf={(c) => effectOf(c)?.trim_mm}
            movable={new Set(movable.map(({ weight }) => weight.key))}
            stuck={readOnly ? undefined : setStuck}
          />
        </g>
        <path class="pivot" d={`M${pivot},${line + 1}l9,15h-18z`} />
      </svg>
      <WeightGrips movable={movable} spotOf={spotOf} size={[width, height]} ghost={setGhost} />
      {stuck && <NoRange weight={stuck} done={() => setStuck(undefined)} />}
      <BeamSum />
      <Hint id="beam">
        New weights sit on the beam; removed ones hang below it. It tilts the way the boat will.
        Weights with a grip can be dragged along it.
      </Hint>
    </section>
  );
}

/** The trim that the changes make, where she stands upright before and after [deg]. */
function useTrimChange() {
  const { working, condition } = useBoat();
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  const stand = after && before && ![after, before].some(upturned);
  return { after, stand, trim: (stand && after.change?.trim_deg) || 0 };
}

/** Where the beam lies in its drawing, and how it is tipped. */
function useTipped(placed: readonly PlacedWeight[], scale: Scale) {
  const { working } = useBoat();
  const { trim } = useTrimChange();
  // in steps that are kept while it fits, so that nothing else moves while a weight grows
  const lastReach = useRef({ up: 0, down: 0 });
  const reach = (stands: boolean, before: number) => {
    const far = Math.max(20, ...placed.filter((p) => p.stands === stands).map((p) => p.far));
    const keeps = far <= before && (isHeld() || before - far < KEPT_PX);
    return keeps ? before : Math.ceil((far + ROOM_PX) / STEP_PX) * STEP_PX;
  };
  lastReach.current = {
    up: reach(true, lastReach.current.up),
    down: reach(false, lastReach.current.down),
  };
  const pivot = scale.x(working.profile.centre_of_flotation_x_m);
  const line = lastReach.current.up + ROOM;
  const height = line + lastReach.current.down + ROOM_BELOW;
  const tiltDeg = tilt(trim, TILT_TIMES);
  const turn = (tiltDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const spotOf = (x: number, y: number): FlatPoint => [
    pivot + (x - pivot) * cos - y * sin,
    line + (x - pivot) * sin + y * cos,
  ];
  const way: FlatPoint = [scale.perMetre * cos, scale.perMetre * sin];
  return { height, pivot, line, tiltDeg, way, spotOf };
}

/** The moment of the changes, and how far the beam is tipped. */
function BeamSum() {
  const moment = useBoat().working.profile.changes_moment_kgm;
  const { after, stand } = useTrimChange();
  const sum = (
    <>
      <ExplainButton explained={explainedSum(after)}>
        {quantity(Math.abs(moment), 'kg·m', 10)}
      </ExplainButton>{' '}
      {moment > 0 ? 'aft' : 'forward'} of the centre of flotation ▲.
    </>
  );
  return (
    <p class="beam-sum">
      {Math.abs(moment) < 0.5 ? 'Balanced about the centre of flotation ▲.' : sum}{' '}
      {stand && `Tilt drawn ${TILT_TIMES} times.`}
    </p>
  );
}

/** Where the hand has something; where it was refused, it is where it was. */
const draftOf = (snapshot: Snapshot, path: string) =>
  isHeld() || reasonsAt(snapshot, path).length === 0 ? snapshot.drafts.get(path)?.value : undefined;

const explainedSum = (boat: ConditionResult | undefined): Explained => ({
  title: 'Moment of the changes',
  meaning:
    'Every weight that goes on, times its distance aft of the centre of flotation, less the same for what comes off; a moved weight counts at both places. Divided by the moment to trim it comes close to the change of trim.',
  rows: boat
    ? (
        [
          ['centre of flotation', 'lcf_m', 'm', 0.01, ' aft'],
          ['moment to trim', 'trim_moment_kgm_per_cm', 'kg·m/cm', 1, ''],
        ] as const
      ).map(
        ([name, key, unit, step, way]): ExplanationLine => [
          name,
          quantity(boat[key], unit, step) + way,
          `conditions.${boat.id}.${boat.stage}.${key}`,
        ],
      )
    : [],
});

/** Keys along the beam, and those that pick. */
const STEPS: Readonly<Record<string, number>> = { ArrowRight: 1, ArrowLeft: -1 };
const PICKS: readonly string[] = ['Enter', ' '];

interface BeamWeightsProps {
  readonly placed: readonly PlacedWeight[];
  readonly colourOf: (weight: PlacedWeight) => string;
  readonly trimOf: (weight: PlacedWeight) => number | undefined;
  /** Keys of those that are dragged along the beam. */
  readonly movable: ReadonlySet<string>;
  /** Told of one that somebody drags though it has no range. */
  readonly stuck: ((weight: PlacedWeight) => void) | undefined;
}

/** One stop for the Tab key; arrow keys go from weight to weight along the boat. */
function BeamWeights({ placed, colourOf, trimOf, movable, stuck }: BeamWeightsProps) {
  const { route, go } = useRoute();
  const [here, setHere] = useState(0);
  const group = useRef<SVGGElement>(null);
  const current = Math.min(here, placed.length - 1);
  const pick = (weight: PlacedWeight) => {
    const part = /\.parts\.([^.]+)$/.exec(weight.path)?.[1];
    go({ picked: { change: weight.change, part } });
  };
  const step = (by: number) => {
    const next = Math.max(0, Math.min(placed.length - 1, current + by));
    setHere(next);
    const there = group.current?.children[next];
    if (there instanceof SVGElement) there.focus();
  };
  const pickHere = () => {
    const weight = placed[current];
    if (weight) pick(weight);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const by = STEPS[event.key];
    if (by !== undefined) step(by);
    else if (PICKS.includes(event.key)) pickHere();
    else return;
    event.preventDefault();
  };
  return (
    <g ref={group} onKeyDown={onKeyDown}>
      {placed.map((weight, i) => (
        <WeightBox
          key={weight.key}
          weight={weight}
          colour={colourOf(weight)}
          hatched={isHatched('trim', trimOf(weight) ?? 0)}
          label={labelOf(weight, trimOf(weight))}
          picked={route.picked?.change === weight.change}
          stop={i === current}
          isMovable={movable.has(weight.key)}
          dragged={() => stuck?.(weight)}
          take={() => {
            setHere(i);
            pick(weight);
          }}
        />
      ))}
    </g>
  );
}

function labelOf(weight: PlacedWeight, trim: number | undefined): string {
  const [stands, hangs] = weight.moved
    ? ['moves to', 'moves from']
    : ['goes on at', 'comes off at'];
  const what = weight.stands ? stands : hangs;
  const effect = trim === undefined ? '' : `, ${trimEffectWords(trim)}`;
  return `${title(weight.label)}, ${kilograms(weight.kg)} ${what} ${quantity(weight.x_m, 'm', 0.01)}${effect}`;
}

interface WeightBoxProps {
  readonly weight: PlacedWeight;
  readonly colour: string;
  /** Whether it trims her by the bow, shown without colour too. */
  readonly hatched: boolean;
  readonly label: string;
  readonly picked: boolean;
  readonly stop: boolean;
  readonly isMovable: boolean;
  readonly take: () => void;
  /** Somebody drags it, and it has no range. */
  readonly dragged: () => void;
}

function WeightBox(props: WeightBoxProps) {
  const { weight, colour, hatched, label, picked, stop, isMovable, take, dragged } = props;
  const up = weight.stands;
  const top = up ? -weight.far : weight.near;
  const middle = top + weight.size / 2;
  const [x, y, side] = [weight.x - weight.size / 2 + 0.5, top + 0.5, weight.size - 1];
  const box = { x, y, width: side, height: side, rx: 1.5 };
  const pressedAt = useRef<number>(undefined);
  const onPointerMove = (e: PointerEvent) => {
    if (pressedAt.current === undefined || Math.abs(e.clientX - pressedAt.current) < DRAG_PX)
      return;
    pressedAt.current = undefined;
    dragged();
  };
  return (
    <g
      class={`beam-weight ${up ? 'on' : 'off'} ${picked ? 'picked' : ''} ${weight.named ? 'named' : ''}`}
      role="button"
      tabindex={stop ? 0 : -1}
      aria-label={label}
      onClick={take}
      onPointerDown={(e) => {
        if (!up || isMovable) return;
        pressedAt.current = e.clientX;
        e.currentTarget.setPointerCapture(e.pointerId);
      }}
      onPointerMove={onPointerMove}
      onPointerUp={() => {
        pressedAt.current = undefined;
      }}
    >
      <title>{label}</title>
      <rect {...box} style={{ fill: colour }} />
      {hatched && <rect {...box} class="hatched" />}
      {isMovable && (
        <path
          class="grip-lines"
          d={`M${weight.x - 2},${middle - 5}v10M${weight.x + 2},${middle - 5}v10`}
        />
      )}
      <text
        x={weight.x}
        y={up ? top - 3 : top + weight.size + 10}
        text-anchor="middle"
        aria-hidden="true"
      >
        {weight.label}
      </text>
    </g>
  );
}
