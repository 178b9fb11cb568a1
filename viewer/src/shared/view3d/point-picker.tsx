/** The boat in three dimensions, to press points on. */
import { useState } from 'preact/hooks';
import type { Spot } from '../../scene/aim.ts';
import type { ViewName } from '../../scene/view.ts';
import { useBoat } from '../../session/context.tsx';
import { CanvasKeys } from './canvas-keys.tsx';
import { useBoatView } from './use-boat-view.ts';

const VIEW_NAMES: readonly ViewName[] = ['oblique', 'profile', 'plan', 'body'];

export function PointPicker({ press }: { press: (spot: Spot) => void }) {
  const { working } = useBoat();
  const [name, setName] = useState<ViewName>('oblique');
  const { canvas, view, lost } = useBoatView(working.scene, 'plain', {
    spotted: (spot) => spot && press(spot),
    picksNothing: true,
  });
  const look = (to: ViewName) => {
    setName(to);
    view.current?.view(to);
  };
  if (lost) return <p class="lost">This browser cannot draw in three dimensions here.</p>;
  return (
    <section class="three picker" aria-label="The boat, to press points on">
      <fieldset class="segments">
        <legend class="unseen">Look from</legend>
        {VIEW_NAMES.map((one) => (
          <button key={one} type="button" aria-pressed={name === one} onClick={() => look(one)}>
            {one}
          </button>
        ))}
      </fieldset>
      <div class="with-pins">
        <CanvasKeys canvas={canvas} view={view} />
      </div>
    </section>
  );
}
