/** The boat in three dimensions, in the middle of the Float page. */
import { useLayoutEffect, useState } from 'preact/hooks';
import { useApp } from '../app-context.ts';
import { bothBoats } from '../figures.ts';
import { kilograms, trimWords } from '../numbers.ts';
import { levelAtRest } from '../level.ts';
import { MODE_WORDS, type Mode } from '../paint.ts';
import type { Frame } from '../profile.ts';
import type { BoatView, ViewName } from '../scene/view.ts';
import { lastKey, title } from '../words.ts';
import { useBoatView, type Held } from './use-boat-view.ts';
import { Legend } from './legend.tsx';

const KEYS =
  'Arrow keys turn her, plus and minus come nearer, comma and full stop pick the parts in turn.';

const VIEW_NAMES: readonly ViewName[] = ['oblique', 'profile', 'plan', 'body'];

export function Three({ frame }: { frame: Frame }) {
  const { working, mode, setMode } = useApp();
  const [hovered, setHovered] = useState<string>();
  const { canvas, view, lost } = useBoatView(working.scene, mode, setHovered);
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
            <button
              key={one}
              type="button"
              aria-pressed={name === one}
              onClick={() => look(one)}
            >
              {one}
            </button>
          ))}
        </fieldset>
        <fieldset class="segments">
          <legend>coloured by</legend>
          {(Object.keys(MODE_WORDS) as Mode[]).map((one) => (
            <button
              key={one}
              type="button"
              aria-pressed={mode === one}
              onClick={() => setMode(one)}
            >
              {MODE_WORDS[one]}
            </button>
          ))}
        </fieldset>
      </div>
      {lost ? (
        <p class="lost">
          This browser cannot draw in three dimensions here. Everything else works.
        </p>
      ) : (
        <CanvasKeys canvas={canvas} view={view} />
      )}
      <p class="hovered">{hovered ? captionOf(working, hovered) : <WaterKey />}</p>
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

interface KeysProps {
  readonly canvas: Held<HTMLCanvasElement>;
  readonly view: Held<BoatView>;
}

/** The canvas, which the keyboard turns as the hand does. */
export function CanvasKeys({ canvas, view }: KeysProps) {
  const { working, route, go } = useApp();
  const step = (by: number) => {
    const { parts } = working.assessment;
    const here = parts.findIndex((p) => p.id === route.picked?.part);
    const next = parts[(here + by + parts.length) % parts.length];
    if (next) go({ picked: { change: next.change, part: next.id } });
  };
  const onKeyDown = (e: KeyboardEvent) => {
    const turns: Readonly<Record<string, () => void>> = {
      ArrowLeft: () => view.current?.turn(-10, 0),
      ArrowRight: () => view.current?.turn(10, 0),
      ArrowUp: () => view.current?.turn(0, 10),
      ArrowDown: () => view.current?.turn(0, -10),
      '+': () => view.current?.nearer(1.2),
      '=': () => view.current?.nearer(1.2),
      '-': () => view.current?.nearer(1 / 1.2),
      '.': () => step(1),
      ',': () => step(-1),
    };
    const turn = turns[e.key];
    if (!turn || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    turn();
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
function useWaters(view: Held<BoatView>, frame: Frame): void {
  const { working, condition } = useApp();
  useLayoutEffect(() => view.current?.along(frame.x0, frame.x1), [frame.x0, frame.x1]);
  useLayoutEffect(() => {
    const { before, after } = bothBoats(working.assessment.conditions, condition);
    const now = after ?? before;
    const length = working.profile.length_waterline_m;
    const was = after && before && levelAtRest(before, length);
    if (now) view.current?.water(levelAtRest(now, length), was, length);
  }, [working, condition]);
}

function captionOf(working: ReturnType<typeof useApp>['working'], id: string): string {
  const part = working.assessment.parts.find((p) => p.id === id);
  if (part)
    return `${title(id)}: ${kilograms(part.mass_kg)}, ${trimWords(part.effect.trim_mm)}`;
  const replaced = working.assessment.replaced.find((one) => one.id === id);
  const mm = replaced?.effect.trim_mm ?? 0;
  return `${title(lastKey(id))}, taken away: ${trimWords(mm)}`;
}
