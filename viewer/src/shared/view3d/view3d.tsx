/** The boat in three dimensions, in the middle of the Float page. */
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { PartResult, ReplacedResult } from '../../contract.ts';
import type { Spot } from '../../scene/aim.ts';
import type { BoatView, ViewName } from '../../scene/view.ts';
import {
  type BoatAnswer,
  useBoat,
  useCommenting,
  useRoute,
  useViewing,
} from '../../session/context.tsx';
import { pinOn, pinWords } from '../../session/review.ts';
import { countedOf, effectOrNone } from '../answer/effects.ts';
import { bothBoats } from '../answer/figures.ts';
import { comparedIn } from '../answer/floats.ts';
import { levelAtRest } from '../boat/level.ts';
import { type Frame, upturned } from '../boat/side-view.ts';
import { MEASURES, measureWords } from '../colour/measures.ts';
import { MODES, type Mode, modeWords } from '../colour/paint.ts';
import { CommentOn } from '../comments/composer.tsx';
import { choiceOf } from '../words/choice.ts';
import { kilograms } from '../words/numbers.ts';
import { lastKey, title } from '../words/plain-words.ts';
import { BoatHandles } from './handles.tsx';
import { Legend } from './legend.tsx';
import { Pins } from './pins.tsx';
import { SectionTool } from './section.tsx';
import { TapeLine, TapeReading, useTape } from './tape.tsx';
import { type Ref, useBoatView } from './use-boat-view.ts';

const KEYS =
  'Arrow keys turn her, plus and minus come nearer, comma and full stop pick the parts in turn.';

const VIEW_NAMES: readonly ViewName[] = ['oblique', 'profile', 'plan', 'body'];

export function View3D({ frame }: { frame: Frame }) {
  const { working } = useBoat();
  const { mode, setMode } = useViewing();
  const { commenting } = useCommenting();
  const [hovered, setHovered] = useState<string>();
  const [spot, setSpot] = useState<Spot>();
  const eachFrame = useRef<() => void>(null);
  const lineFrame = useRef<() => void>(null);
  const gripFrame = useRef<() => void>(null);
  const tape = useTape();
  useEffect(() => {
    if (!commenting) setSpot(undefined);
  }, [commenting]);
  const { canvas, view, lost, missing, again } = useBoatView(working.scene, mode, {
    hovered: setHovered,
    spotted: tape.open ? tape.press : setSpot,
    drawn: () => {
      eachFrame.current?.();
      lineFrame.current?.();
      gripFrame.current?.();
    },
    picksNothing: tape.open,
  });
  const turnTape = () => {
    setSpot(undefined);
    tape.turn();
  };
  useWaters(view, frame);
  const [name, setName] = useState<ViewName>('oblique');
  const look = (to: ViewName) => {
    setName(to);
    view.current?.view(to);
  };
  return (
    <section class="three" aria-label="The boat in three dimensions">
      <div class="three-tools">
        <fieldset class="segments">
          <legend class="unseen">Look from</legend>
          {VIEW_NAMES.map((one) => (
            <button key={one} type="button" aria-pressed={name === one} onClick={() => look(one)}>
              {one}
            </button>
          ))}
        </fieldset>
        {!lost && (
          <>
            <SectionTool view={view} />
            <button type="button" class="measure" aria-pressed={tape.open} onClick={turnTape}>
              distance
            </button>
          </>
        )}
        <label class="coloured">
          coloured by{' '}
          <select
            value={mode}
            onChange={(e) => setMode(choiceOf(MODES, e.currentTarget.value) ?? mode)}
          >
            {MODES.map((one) => (
              <option key={one} value={one}>
                {modeWords(one)}
              </option>
            ))}
          </select>
        </label>
      </div>
      {lost ? (
        <p class="lost">
          This browser cannot draw in three dimensions here. Everything else works.
        </p>
      ) : (
        <div class="with-pins">
          <CanvasKeys canvas={canvas} view={view} />
          <Pins view={view} drawn={eachFrame} />
          <BoatHandles view={view} drawn={gripFrame} isHidden={tape.open} />
          {tape.open && <TapeLine tape={tape} view={view} drawn={lineFrame} />}
        </div>
      )}
      {missing && (
        <p class="refused" role="alert">
          Some of her is not drawn. {missing}{' '}
          <button type="button" class="quiet" onClick={again}>
            Draw again
          </button>
        </p>
      )}
      {tape.open && <TapeReading tape={tape} />}
      {spot && (
        <p class="spot">
          {pinWords(pinOn(spot))} <CommentOn on={pinOn(spot)} words="Comment here" />
        </p>
      )}
      <p class="hovered">{hovered ? captionOf({ working }, mode, hovered) : <WaterKey />}</p>
      <Legend />
    </section>
  );
}

/** The boat is held still; the water is drawn where it lies on her. */
const WaterKey = () => (
  <span class="water-key">
    <svg viewBox="0 0 24 6" aria-hidden="true">
      <path d="M0,3H24" />
    </svg>{' '}
    water now{' '}
    <svg viewBox="0 0 24 6" aria-hidden="true">
      <path d="M0,3H24" stroke-dasharray="5 3" />
    </svg>{' '}
    as found
  </span>
);

const turning = (sidewaysDeg: number, upDeg: number) => (view: BoatView) =>
  view.turn(sidewaysDeg, upDeg);
const nearing = (times: number) => (view: BoatView) => view.nearer(times);

/** What keys do to the view, and which of them pick a part before or after. */
const MOVES: Readonly<Record<string, (view: BoatView) => void>> = {
  ArrowLeft: turning(-10, 0),
  ArrowRight: turning(10, 0),
  ArrowUp: turning(0, 10),
  ArrowDown: turning(0, -10),
  '+': nearing(1.2),
  '=': nearing(1.2),
  '-': nearing(1 / 1.2),
};
const STEPS: Readonly<Record<string, number>> = { '.': 1, ',': -1 };

interface KeysProps {
  readonly canvas: Ref<HTMLCanvasElement>;
  readonly view: Ref<BoatView>;
}

/** The canvas, which the keyboard turns as the hand does. */
export function CanvasKeys({ canvas, view }: KeysProps) {
  const { working } = useBoat();
  const { route, go } = useRoute();
  const step = (by: number) => {
    const { parts } = working.assessment;
    const here = parts.findIndex((p) => p.id === route.picked?.part);
    const next = parts[(here + by + parts.length) % parts.length];
    if (next) go({ picked: { change: next.change, part: next.id } });
  };
  const onKeyDown = (e: KeyboardEvent) => {
    const by = STEPS[e.key];
    const act = by === undefined ? MOVES[e.key] : () => step(by);
    if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    if (view.current) act(view.current);
  };
  return (
    <canvas
      ref={canvas}
      tabIndex={0}
      role="application"
      aria-label={`Boat in three dimensions. ${KEYS}`}
      title={KEYS}
      onKeyDown={onKeyDown}
    />
  );
}

/** Lays both waters on her, and stands her below the profile. */
function useWaters(view: Ref<BoatView>, frame: Frame): void {
  const { working, condition } = useBoat();
  useLayoutEffect(() => view.current?.along(frame.x0, frame.x1), [frame.x0, frame.x1]);
  useLayoutEffect(() => {
    const { before, after } = bothBoats(comparedIn(working.assessment), condition);
    const now = after ?? before;
    const length = working.profile.length_waterline_m;
    const both = after && before && upturned(after) === upturned(before);
    if (now)
      view.current?.water({
        now: levelAtRest(now),
        before: both ? levelAtRest(before) : undefined,
        isUpsideDown: upturned(now),
        length,
      });
  }, [working, condition]);
}

/** What is under the pointer, and what it does to what the boat is coloured by. */
function captionOf({ working }: Pick<BoatAnswer, 'working'>, mode: Mode, id: string): string {
  const { parts, replaced } = working.assessment;
  const measure = MEASURES[mode === 'mass' || mode === 'plain' ? 'trim' : mode];
  const does = (piece: PartResult | ReplacedResult) =>
    measureWords(measure, measure.of(effectOrNone(piece)));
  const part = parts.find((one) => one.id === id);
  if (part) return `${title(id)}: ${kilograms(countedOf(part))}, ${does(part)}`;
  const gone = replaced.find((one) => one.id === id);
  return `${title(lastKey(id))}, taken away${gone ? `: ${does(gone)}` : ''}`;
}
