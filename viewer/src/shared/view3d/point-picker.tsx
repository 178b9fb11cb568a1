/** The boat in three dimensions, to press points on. */
import type { Spot } from '../../scene/aim.ts';
import { useBoat } from '../../session/context.tsx';
import { CanvasKeys } from './canvas-keys.tsx';
import { LookFrom } from './look-from.tsx';
import { useBoatView } from './use-boat-view.ts';

export function PointPicker({ press }: { press: (spot: Spot) => void }) {
  const { working } = useBoat();
  const { canvas, view, lost } = useBoatView(working.scene, 'plain', {
    spotted: (spot) => spot && press(spot),
    picksNothing: true,
  });
  if (lost) return <p class="lost">This browser cannot draw in three dimensions here.</p>;
  return (
    <section class="three picker" aria-label="The boat, to press points on">
      <LookFrom view={view} />
      <div class="with-pins">
        <CanvasKeys canvas={canvas} view={view} />
      </div>
    </section>
  );
}
