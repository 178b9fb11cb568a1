/** The boat held at a heel in three dimensions, the water level, with her openings marked. */
import { useEffect, useLayoutEffect, useMemo, useState } from 'preact/hooks';
import type { ConditionResult, OpeningResult } from '../contract.ts';
import type { ViewName } from '../scene/view.ts';
import { useBoat } from '../session/context.tsx';
import { levelAtRest } from '../shared/boat/level.ts';
import { type Held, levelsOf } from '../shared/boat/levers.ts';
import { CanvasKeys } from '../shared/view3d/canvas-keys.tsx';
import { useBoatView } from '../shared/view3d/use-boat-view.ts';
import { OpeningMark } from './opening-mark.tsx';

export type From = Extract<ViewName, 'port quarter' | 'starboard quarter' | 'profile' | 'body'>;

interface Props {
  readonly now: ConditionResult;
  readonly held: Held;
  readonly from: From;
  /** Told where the browser draws nothing in three dimensions. */
  readonly lose: () => void;
}

export function HeeledView({ now, held, from, lose }: Props) {
  const { working } = useBoat();
  const standing = useMemo(
    () => working.scene.filter((piece) => piece.role !== 'replaced'),
    [working.scene],
  );
  const [, countFrame] = useState(0);
  const { canvas, view, lost } = useBoatView(standing, 'plain', {
    drawn: () => countFrame((n) => n + 1),
  });
  useEffect(() => {
    if (lost) lose();
  }, [lost, lose]);
  useLayoutEffect(() => view.current?.view(from), [from]);
  useLayoutEffect(() => {
    const rise = Math.max(...levelsOf(now).map(({ offset }) => Math.abs(offset)));
    view.current?.heel(held, working.profile.length_waterline_m, rise, levelAtRest(now));
  }, [held, now]);
  const spotsOf = ({ edge_m }: OpeningResult) =>
    edge_m.flatMap((point) => (view.current ? [view.current.spot(point)] : []));
  return (
    <div class="heeled-view">
      <CanvasKeys canvas={canvas} view={view} />
      <svg aria-hidden="true">
        {view.current &&
          now.openings.map((opening) => (
            <OpeningMark
              key={`${opening.id} ${opening.side}`}
              opening={opening}
              under={held.under.includes(opening)}
              spots={spotsOf(opening)}
            />
          ))}
      </svg>
    </div>
  );
}
