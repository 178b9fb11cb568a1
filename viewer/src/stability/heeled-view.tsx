/** The boat held at a heel in three dimensions, the water level, with her openings marked. */
import { useEffect, useLayoutEffect, useMemo, useState } from 'preact/hooks';
import type { ConditionResult } from '../contract.ts';
import type { ViewName } from '../scene/view.ts';
import { useBoat } from '../session/context.tsx';
import { immersed, type Strand, strandsOf } from '../shared/boat/heeled.ts';
import { levelAtRest, pointSeenAt } from '../shared/boat/level.ts';
import { type Held, levelsOf } from '../shared/boat/levers.ts';
import type { FlatPoint, Point } from '../shared/boat/points.ts';
import { CanvasKeys } from '../shared/view3d/canvas-keys.tsx';
import { useBoatView } from '../shared/view3d/use-boat-view.ts';
import { Forces } from './forces.tsx';
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
  const { length_waterline_m: length } = working.profile;
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
    view.current?.heel(held, length, rise, levelAtRest(now));
  }, [held, now]);
  const spot = (point: Point): FlatPoint => view.current?.spot(point) ?? [0, 0];
  return (
    <div class="heeled-view">
      <CanvasKeys canvas={canvas} view={view} />
      <svg aria-hidden="true">
        {view.current && (
          <>
            <SectionsInside held={held} spot={spot} />
            {now.openings.map((opening) => (
              <OpeningMark
                key={`${opening.id} ${opening.side}`}
                opening={opening}
                under={held.under.includes(opening)}
                spots={opening.edge_m.map(spot)}
              />
            ))}
            <Forces
              held={held}
              at={(seen) => spot(pointSeenAt(held, now.centre_of_gravity_m[0], seen))}
              height={canvas.current?.clientHeight ?? 0}
            />
          </>
        )}
      </svg>
    </div>
  );
}

interface InsideProps {
  readonly held: Held;
  /** Where a point of the boat is on the canvas [px]. */
  readonly spot: (point: Point) => FlatPoint;
}

/** Where sections stand along her, of the way from the first one to the last. */
const PLACES = [0.2, 0.8];

/** The midship section and one to either side of it, laid over her, filled where under water. */
function SectionsInside({ held, spot }: InsideProps) {
  const { body } = useBoat().working.profile;
  const sections = useMemo(() => sectionsShown(strandsOf(body)), [body]);
  const path = (points: readonly Point[]) =>
    points.length > 0 ? `M${points.map((p) => spot(p).map((v) => v.toFixed(1))).join('L')}Z` : '';
  return (
    <>
      {sections.map(({ kind, points }, i) => (
        <g key={i}>
          <path class={`cut-open ${kind}`} d={path(points)} />
          <path class="immersed" d={path(immersed(held, points))} />
        </g>
      ))}
    </>
  );
}

/** From the bow to the stern, as they hide one another. */
function sectionsShown(strands: readonly Strand[]): readonly Strand[] {
  const place = ({ points }: Strand) => points[0]?.[0] ?? 0;
  const all = strands
    .filter(({ kind }) => kind === 'section')
    .toSorted((a, b) => place(a) - place(b));
  const picked = PLACES.flatMap((share) => all[Math.round(share * (all.length - 1))] ?? []);
  const midship = strands.filter(({ kind }) => kind === 'midship');
  return [...picked, ...midship].toSorted((a, b) => place(a) - place(b));
}
