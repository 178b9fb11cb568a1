/** A view of the boat on a canvas: her pieces, their colours, what is picked. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Spot } from '../../scene/aim.ts';
import { BoatView, type Palette } from '../../scene/view.ts';
import { inPlace } from '../../session/answer-times.ts';
import { useApp } from '../../session/context.ts';
import { whyNot } from '../../session/review-store.ts';
import { type Drawable, type Mode, pieceColours } from '../colour/paint.ts';

export type Held<T> = { current: T | null };

/** The view that is on the page, for measuring and tests. */
export const onPage: { view: BoatView | undefined } = { view: undefined };

interface Told {
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
  told: Told = {},
  marked?: ReadonlySet<string>,
) {
  const { meshes, working, since, scales, route, go, dark } = useApp();
  const canvas = useRef<HTMLCanvasElement>(null);
  const view = useRef<BoatView>(null);
  const latest = useRef({ pieces, go, told });
  latest.current = { pieces, go, told };
  const [lost, setLost] = useState(false);
  const [missing, setMissing] = useState('');
  const [tries, setTries] = useState(0);

  useLayoutEffect(() => {
    const picked = (id: string | undefined) => {
      if (latest.current.told.picksNothing) return undefined;
      const piece = latest.current.pieces.find((one) => one.id === id);
      if (!piece?.change) return latest.current.go({ picked: undefined });
      const part = piece.role === 'new' ? piece.id : undefined;
      return latest.current.go({ picked: { change: piece.change, part } });
    };
    try {
      view.current = new BoatView(canvas.current!, {
        picked,
        hovered: (id) => latest.current.told.hovered?.(id),
        spotted: (spot) => latest.current.told.spotted?.(spot),
        drawn: () => latest.current.told.drawn?.(),
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

  const inks = useRef<Palette>(null);
  useLayoutEffect(() => {
    inks.current = canvas.current && palette(canvas.current);
  }, [dark]);
  useLayoutEffect(() => {
    const colours = pieceColours(mode, working.assessment, pieces, scales);
    if (inks.current) view.current?.paint(colours, inks.current);
  }, [working, mode, scales, dark]);
  useLayoutEffect(() => {
    const shown = view.current?.show(pieces, meshes.of) ?? Promise.resolve();
    let isWanted = true;
    shown.then(
      () => {
        setMissing('');
        inPlace('meshes', working.edit, since);
      },
      (error: unknown) => isWanted && setMissing(whyNot(error)),
    );
    return () => {
      isWanted = false;
    };
  }, [pieces, tries]);
  useLayoutEffect(() => {
    const { picked } = route;
    const ids = pieces.filter((one) =>
      picked?.part ? one.id === picked.part : picked !== undefined && one.change === picked.change,
    );
    view.current?.select(marked ?? new Set(ids.map((one) => one.id)));
  }, [route.picked?.change, route.picked?.part, pieces, marked]);

  const again = () => setTries((n) => n + 1);
  return { canvas, view, lost, missing, again };
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
