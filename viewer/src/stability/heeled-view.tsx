/** The boat held at a heel in three dimensions, the water level, with her openings marked. */
import { useEffect, useLayoutEffect, useMemo, useState } from 'preact/hooks';
import type { RightingLevers } from '../contract.ts';
import type { ViewName } from '../scene/view.ts';
import { useBoat } from '../session/context.tsx';
import type { OpeningNow } from '../shared/boat/heeled.ts';
import type { Level } from '../shared/boat/level.ts';
import { useBoatView } from '../shared/view3d/use-boat-view.ts';
import { CanvasKeys } from '../shared/view3d/view3d.tsx';
import { OpeningMark } from './opening-mark.tsx';

export type From = Extract<ViewName, 'port quarter' | 'starboard quarter' | 'profile' | 'body'>;

interface Props {
  readonly levers: RightingLevers;
  readonly held: Level;
  readonly openings: readonly OpeningNow[];
  readonly from: From;
  /** Told where the browser draws nothing in three dimensions. */
  readonly lose: () => void;
}

export function HeeledView({ levers, held, openings, from, lose }: Props) {
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
    const rise = Math.max(...levers.water_offset_m.map(Math.abs));
    view.current?.heel(held, working.profile.length_waterline_m, rise);
  }, [held, levers]);
  const spotsOf = ({ opening }: OpeningNow) =>
    opening.edge_m.flatMap((point) => (view.current ? [view.current.spot(point)] : []));
  return (
    <div class="heeled-view">
      <CanvasKeys canvas={canvas} view={view} />
      <svg aria-hidden="true">
        {view.current &&
          openings.map((one) => (
            <OpeningMark
              key={`${one.opening.id} ${one.opening.side}`}
              one={one}
              spots={spotsOf(one)}
            />
          ))}
      </svg>
    </div>
  );
}
