/** A new mark with the freeboards read at it. */
import { useState } from 'preact/hooks';
import { useBoat, useEditing } from '../../session/context.tsx';
import { at } from '../boat/document.ts';
import { NameField } from '../fields/name-field.tsx';
import { quantityIn, ShortInput } from '../fields/short-input.tsx';
import { NUMBER_WANTED } from '../words/numbers.ts';
import { freeKey, plainWords } from '../words/plain-words.ts';
import { AddingEnd } from './adding-end.tsx';

export function AddMark() {
  const { document } = useBoat();
  const { session } = useEditing();
  const [open, setOpen] = useState(false);
  const [wrong, setWrong] = useState('');
  const keyFor = (name: string) =>
    freeKey(name, 'mark', (key) => at(document, `survey.marks.${key}`) !== undefined);
  const add = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const id = keyFor(String(data.get('name')));
    const [x = NaN, sheer = NaN, port = NaN, starboard = NaN] = (
      [
        ['x', 'm'],
        ['sheer', 'm'],
        ['port', 'mm'],
        ['starboard', 'mm'],
      ] as const
    ).map(([name, unit]) => quantityIn(data, name, unit));
    const path = `survey.marks.${id}`;
    if (!id) return setWrong('Give it a name with letters or digits.');
    if (at(document, path) !== undefined) return setWrong('A mark with this name already exists.');
    if (![x, sheer, port, starboard].every(Number.isFinite))
      return setWrong(`All four must be numbers: ${NUMBER_WANTED}.`);
    const freeboard_m = { port: port / 1000, starboard: starboard / 1000 };
    const value = { x_m: x, sheer_z_m: sheer, freeboard_m };
    const why = await session.add(path, value, `mark ${plainWords(id)}`);
    return why.length > 0 ? setWrong(why.join(' ')) : setOpen(false);
  };
  if (!open) {
    return (
      <button type="button" class="quiet" onClick={() => setOpen(true)}>
        add a mark
      </button>
    );
  }
  return (
    <form class="adding" onSubmit={add} aria-label="A new mark">
      <NameField keyFor={keyFor} />
      <ShortInput name="x" label="x" unit="m" after="aft" />
      <ShortInput name="sheer" label="sheer" unit="m" after="up" />
      <ShortInput name="port" label="port" unit="mm" />
      <ShortInput name="starboard" label="starboard" unit="mm" />
      <AddingEnd button="Add" cancel={() => setOpen(false)} wrong={wrong} />
    </form>
  );
}
