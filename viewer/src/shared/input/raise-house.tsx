/** The old house raised with one press, by different amounts at both ends. */
import { useState } from 'preact/hooks';
import { useBoat, useEditing } from '../../session/context.tsx';
import { raisedHouse } from '../../session/proposals-api.ts';
import { whyNot } from '../../session/review-store.ts';
import { at, type Mapping, mapping } from '../boat/document.ts';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { WhenEditable } from '../fields/editing.tsx';
import { quantityIn, ShortInput } from '../fields/short-input.tsx';
import { NUMBER_WANTED } from '../words/numbers.ts';
import { plainWords } from '../words/plain-words.ts';
import { reworded } from '../words/sentences.ts';

/** Names of the houses on deck that the boat has as found. */
const oldHouses = (document: Mapping): readonly string[] =>
  Object.entries(mapping(at(document, 'existing')))
    .filter(([, part]) => mapping(part).kind === 'deckhouse')
    .map(([name]) => name);

/** One form for each old house; nothing where she has none. */
export function RaiseHouses() {
  const { document } = useBoat();
  return (
    <WhenEditable>
      {oldHouses(document).map((name) => (
        <RaiseHouse key={name} name={name} />
      ))}
    </WhenEditable>
  );
}

function RaiseHouse({ name }: { name: string }) {
  const { working } = useBoat();
  const { session } = useEditing();
  const [wrong, setWrong] = useState('');
  const [done, setDone] = useState('');
  const { refit, option } = working;
  const raise = async (forward: number, aft: number) => {
    const place = { refit, option };
    const { sentence, values } = await raisedHouse(place, `existing.${name}`, forward, aft);
    const steps = values.map(({ path, value }) =>
      value === null ? ({ op: 'remove', path } as const) : ({ op: 'set', path, value } as const),
    );
    const why = await session.attempt(steps, `${plainWords(name)} raised`);
    setWrong(why.join(' '));
    setDone(why.length === 0 ? sentence : '');
  };
  const submit = (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const [forward, aft] = [quantityIn(data, 'forward', 'm'), quantityIn(data, 'aft', 'm')];
    setDone('');
    if (Number.isFinite(forward) && Number.isFinite(aft))
      raise(forward, aft).catch((error) => setWrong(whyNot(error)));
    else setWrong(`Type a number in both: ${NUMBER_WANTED}.`);
  };
  const words = plainWords(name);
  return (
    <form class="adding raise-house" onSubmit={submit} aria-label={`Raise the ${words}`}>
      <p class="about">
        A new house like the {words}, its sides higher by this much at the front and at the after
        end.
      </p>
      <ShortInput name="forward" label="forward, higher by" unit="m" />
      <ShortInput name="aft" label="aft, higher by" unit="m" />
      <button type="submit">Raise the {words}</button>
      {done && <p role="status">{reworded(done)}</p>}
      <RefusalMessage words={wrong} />
    </form>
  );
}
