/** A view of the boat on a canvas: her pieces, their colours, what is picked. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Spot } from '../../scene/aim.ts';
import { BoatView, type Palette } from '../../scene/view.ts';
import { useBoat, useRoute, useTheme, useViewing } from '../../session/context.tsx';
import { whyNot } from '../../session/review-store.ts';
import type { Route } from '../../session/route.ts';
import { inPlace } from '../../session/working-copy/answer-times.ts';
import { type Drawable, hatchedPieces, type Mode, pieceColours } from '../colour/paint.ts';
import { onPage } from './on-page.ts';

export type Ref<T> = { current: T | null };

interface ViewListener {
  readonly hovered?: (id: string | undefined) => void;
  /** What was pressed, on any piece. */
  readonly spotted?: (spot: Spot | undefined) => void;
  readonly drawn?: () => void;
  /** Whether a press picks nothing. */
  readonly picksNothing?: boolean;
}

/**
 * Keeps a view on `canvas` as the boat is answered; `lost` where the browser has none. What is
 * picked is edged, or else what is `marked`.
 */
export function useBoatView(
  pieces: readonly Drawable[],
  mode: Mode,
  hears: ViewListener = {},
  marked?: ReadonlySet<string>,
) {
  const { route } = useRoute();
  const { canvas, view, lost } = useCanvas(pieces, hears);
  useColours(view, pieces, mode);
  const { missing, again } = useMeshes(view, pieces);
  useLayoutEffect(() => {
    const { picked } = route;
    const ids = pieces.filter((one) =>
      picked?.part ? one.id === picked.part : picked !== undefined && one.change === picked.change,
    );
    view.current?.select(marked ?? new Set(ids.map((one) => one.id)));
  }, [route.picked?.change, route.picked?.part, pieces, marked]);
  return { canvas, view, lost, missing, again };
}

/** The view as long as its canvas is on the page. */
function useCanvas(pieces: readonly Drawable[], hears: ViewListener) {
  const { go } = useRoute();
  const canvas = useRef<HTMLCanvasElement>(null);
  const view = useRef<BoatView>(null);
  const latest = useRef({ pieces, go, hears });
  latest.current = { pieces, go, hears };
  const [lost, setLost] = useState(false);
  useLayoutEffect(() => {
    if (!canvas.current) return undefined;
    try {
      view.current = new BoatView(canvas.current, {
        picked: (id) => pick(id, latest.current),
        hovered: (id) => latest.current.hears.hovered?.(id),
        spotted: (spot) => latest.current.hears.spotted?.(spot),
        drawn: () => latest.current.hears.drawn?.(),
      });
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
  return { canvas, view, lost };
}

interface Picking {
  readonly pieces: readonly Drawable[];
  readonly go: (to: Partial<Route>) => void;
  readonly hears: ViewListener;
}

/** Picks the change of what was pressed, and its part where that is new. */
function pick(id: string | undefined, { pieces, go, hears }: Picking): void {
  if (hears.picksNothing) return;
  const piece = pieces.find((one) => one.id === id);
  if (!piece?.change) go({ picked: undefined });
  else go({ picked: { change: piece.change, part: piece.role === 'new' ? piece.id : undefined } });
}

function useColours(view: Ref<BoatView>, pieces: readonly Drawable[], mode: Mode): void {
  const { working, scales } = useBoat();
  const { dark } = useTheme();
  const inks = useRef<Palette>(null);
  useLayoutEffect(() => {
    inks.current = paletteOf(dark);
  }, [dark]);
  useLayoutEffect(() => {
    const { assessment } = working;
    const hatched = hatchedPieces(mode, assessment);
    const colours = pieceColours(mode, assessment, pieces, scales);
    const paints = [...colours].map(
      ([id, colour]) => [id, { colour, isHatched: hatched.has(id) }] as const,
    );
    if (inks.current) view.current?.paint(new Map(paints), inks.current);
  }, [working, mode, scales, dark]);
}

/** Shows the pieces; why some are missing, and how to ask for them again. */
function useMeshes(view: Ref<BoatView>, pieces: readonly Drawable[]) {
  const { meshes } = useViewing();
  const { working, inputTime } = useBoat();
  const [missing, setMissing] = useState('');
  const [tries, setTries] = useState(0);
  useLayoutEffect(() => {
    const shown = view.current?.show(pieces, meshes.of) ?? Promise.resolve();
    let isWanted = true;
    shown.then(
      () => {
        setMissing('');
        inPlace('meshes', working.edit, inputTime);
      },
      (error: unknown) => isWanted && setMissing(whyNot(error)),
    );
    return () => {
      isWanted = false;
    };
  }, [pieces, tries]);
  return { missing, again: () => setTries((n) => n + 1) };
}

/** The colours of the tokens, as they are on a light page or on a dark one. */
export function paletteOf(isDark: boolean): Palette {
  const { dataset } = document.documentElement;
  const paper = dataset.paper;
  dataset.paper = isDark ? 'dark' : 'light';
  const colours = coloursIn(document.body);
  document.documentElement.dataset.paper = paper ?? '';
  return { ...colours, isDark };
}

function coloursIn(element: HTMLElement): Omit<Palette, 'isDark'> {
  const style = getComputedStyle(element);
  const read = (name: string) => {
    const probe = document.createElement('span');
    probe.style.color = style.getPropertyValue(name).trim();
    element.append(probe);
    const { color } = getComputedStyle(probe);
    probe.remove();
    return color;
  };
  return {
    existing: read('--existing'),
    ink: read('--ink'),
    touch: read('--touch'),
    sea: read('--water-plane'),
    deep: read('--deep'),
    topsides: read('--topsides'),
    bootTop: read('--boot-top'),
    antifouling: read('--antifouling'),
    deck: read('--deck'),
    glass: read('--glass'),
    formerLine: read('--former-line'),
    formerHalo: read('--former-halo'),
    edge: read('--edge'),
    outline: read('--outline'),
  };
}
