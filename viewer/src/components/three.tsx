/** The boat in three dimensions, in the middle of the Float page. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { useApp } from '../app-context.ts';
import { bothBoats } from '../figures.ts';
import { kilograms, trimWords } from '../numbers.ts';
import { inPlace } from '../marks.ts';
import { MODE_WORDS, pieceColours, type Mode } from '../paint.ts';
import type { Frame } from '../profile.ts';
import { BoatView, VIEW_NAMES, type Palette, type ViewName } from '../scene/view.ts';
import { lastKey, title } from '../words.ts';
import { Legend } from './legend.tsx';

const KEYS =
  'Arrow keys turn her, plus and minus come nearer, comma and full stop pick the parts in turn.';

/** The view that is on the page, for measuring and tests. */
export const onPage: { view: BoatView | undefined } = { view: undefined };

export function Three({ frame }: { frame: Frame }) {
  const { mode, setMode } = useApp();
  const { canvas, view, hovered, lost } = useBoatView(frame);
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
      <p class="hovered">{hovered ?? <WaterKey />}</p>
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

type Held<T> = { current: T | null };

function CanvasKeys({
  canvas,
  view,
}: {
  canvas: Held<HTMLCanvasElement>;
  view: Held<BoatView>;
}) {
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

function useBoatView(frame: Frame) {
  const { meshes, working, since, scales, mode, route, go, condition, dark } = useApp();
  const canvas = useRef<HTMLCanvasElement>(null);
  const view = useRef<BoatView>(null);
  const latest = useRef({ working, go });
  latest.current = { working, go };
  const [hovered, setHovered] = useState<string>();
  const [lost, setLost] = useState(false);

  useLayoutEffect(() => {
    const pickedIn = (id: string | undefined) => {
      const piece = latest.current.working.scene.find((one) => one.id === id);
      if (!piece?.change) return latest.current.go({ picked: undefined });
      const part = piece.role === 'new' ? piece.id : undefined;
      return latest.current.go({ picked: { change: piece.change, part } });
    };
    try {
      view.current = new BoatView(canvas.current!, { picked: pickedIn, hovered: setHovered });
    } catch {
      setLost(true);
      return undefined;
    }
    onPage.view = view.current;
    return () => {
      view.current?.dispose();
      onPage.view = undefined;
    };
  }, []);

  useLayoutEffect(() => view.current?.along(frame.x0, frame.x1), [frame.x0, frame.x1]);
  useLayoutEffect(() => {
    const { before, after } = bothBoats(working.assessment.conditions, condition);
    const now = after ?? before;
    const length = working.profile.length_waterline_m;
    if (now) view.current?.water(attitude(now), after && before && attitude(before), length);
  }, [working, condition]);
  const inks = useRef<Palette>(null);
  useLayoutEffect(() => {
    inks.current = canvas.current && palette(canvas.current);
  }, [dark]);
  useLayoutEffect(() => {
    const colours = pieceColours(mode, working.assessment, working.scene, scales);
    if (inks.current) view.current?.paint(colours, inks.current);
  }, [working, mode, scales.trimTop, scales.massTop, dark]);
  useLayoutEffect(() => {
    const shown = view.current?.show(working.scene, meshes.of) ?? Promise.resolve();
    shown.then(() => inPlace('meshes', working.edit, since)).catch(() => undefined);
  }, [working.scene]);
  useLayoutEffect(() => {
    const { picked } = route;
    const ids = working.scene.filter((one) =>
      picked?.part
        ? one.id === picked.part
        : picked !== undefined && one.change === picked.change,
    );
    view.current?.select(new Set(ids.map((one) => one.id)));
  }, [route.picked?.change, route.picked?.part, working.scene]);

  return { canvas, view, lost, hovered: hovered && captionOf(working, hovered) };
}

const attitude = ({
  sinkage_mm,
  trim_mm,
  heel_deg,
}: {
  sinkage_mm: number;
  trim_mm: number;
  heel_deg: number;
}) => ({ sinkage_mm, trim_mm, heel_deg });

function captionOf(working: ReturnType<typeof useApp>['working'], id: string): string {
  const part = working.assessment.parts.find((p) => p.id === id);
  if (part)
    return `${title(id)}: ${kilograms(part.mass_kg)}, ${trimWords(part.effect.trim_mm)}`;
  const replaced = working.assessment.replaced.find((one) => one.id === id);
  const mm = replaced?.effect.trim_mm ?? 0;
  return `${title(lastKey(id))}, taken away: ${trimWords(mm)}`;
}

function palette(element: HTMLElement): Palette {
  const style = getComputedStyle(element);
  const read = (name: string) => {
    const probe = document.createElement('span');
    probe.style.color = style.getPropertyValue(name).trim();
    element.after(probe);
    const { color } = getComputedStyle(probe);
    probe.remove();
    return color;
  };
  return {
    hull: read('--hull'),
    existing: read('--existing'),
    ink: read('--ink'),
    touch: read('--touch'),
    water: read('--water-plane'),
  };
}
