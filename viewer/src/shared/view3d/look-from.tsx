/** Turns the boat to one of the usual views. */
import { useState } from 'preact/hooks';
import type { BoatView, ViewName } from '../../scene/view.ts';
import type { Ref } from './use-boat-view.ts';

const VIEW_NAMES: readonly ViewName[] = ['oblique', 'profile', 'plan', 'body'];

export function LookFrom({ view }: { view: Ref<BoatView> }) {
  const [name, setName] = useState<ViewName>('oblique');
  const look = (to: ViewName) => {
    setName(to);
    view.current?.view(to);
  };
  return (
    <fieldset class="segments">
      <legend class="unseen">Look from</legend>
      {VIEW_NAMES.map((one) => (
        <button key={one} type="button" aria-pressed={name === one} onClick={() => look(one)}>
          {one}
        </button>
      ))}
    </fieldset>
  );
}
