/** A place of the owner's own, to be marked besides those that are offered. */
import { useState } from 'preact/hooks';
import { NameField } from '../shared/fields/name-field.tsx';
import { quantityIn, ShortInput } from '../shared/fields/short-input.tsx';
import { AddingEnd } from '../shared/input/adding-end.tsx';
import { freeKey } from '../shared/words/plain-words.ts';
import { LENGTH_WANTED } from '../shared/words/typed.ts';
import type { MarkedPlace } from './marks.ts';

const AXES = [
  ['x', 'aft'],
  ['y', 'to starboard'],
  ['z', 'up'],
] as const;
const FARTHEST_M = 100;

interface Props {
  readonly taken: readonly string[];
  readonly add: (place: MarkedPlace) => void;
}

export function OwnPlace({ taken, add }: Props) {
  const [open, setOpen] = useState(false);
  const [wrong, setWrong] = useState('');
  const keyFor = (name: string) => freeKey(name, 'place', (key) => taken.includes(key));
  const send = (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const name = String(data.get('name')).trim();
    const id = keyFor(name);
    const place = AXES.map(([axis]) => quantityIn(data, axis, 'm'));
    if (!id) return setWrong('Give it a name with letters or digits.');
    if (taken.includes(id)) return setWrong('A place with this name already exists.');
    if (!place.every((one) => Math.abs(one) <= FARTHEST_M))
      return setWrong(`Type x, y and z as lengths, within ${FARTHEST_M} m: ${LENGTH_WANTED}.`);
    setWrong('');
    setOpen(false);
    return add({ id, name, place_m: place });
  };
  if (!open)
    return (
      <button type="button" class="quiet" onClick={() => setOpen(true)}>
        a place of your own
      </button>
    );
  return (
    <form class="adding own-place" onSubmit={send} aria-label="A place of your own">
      <p class="about">
        Any point that shows in the photograph and that you have measured: x aft of the forward
        perpendicular, y to starboard (to port: negative), z up from the design waterline.
      </p>
      <NameField keyFor={keyFor} />
      {AXES.map(([axis, after]) => (
        <ShortInput key={axis} name={axis} label={axis} unit="m" after={after} />
      ))}
      <AddingEnd button="Mark it next" cancel={() => setOpen(false)} wrong={wrong} />
    </form>
  );
}
