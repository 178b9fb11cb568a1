/** Adding a weight, or a whole change. */
import { useState } from 'preact/hooks';
import { useBoat, useEditing } from '../../session/context.tsx';
import { at } from '../boat/document.ts';
import { ROLE_KEYS, ROLE_WORDS } from '../boat/ledger.ts';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { NameField } from '../fields/name-field.tsx';
import { quantityIn, ShortInput } from '../fields/short-input.tsx';
import { choiceOf } from '../words/choice.ts';
import { PROVENANCES } from '../words/constants.ts';
import { NUMBER_WANTED } from '../words/numbers.ts';
import { freeKey, plainWords } from '../words/plain-words.ts';
import { AddingEnd } from './adding-end.tsx';

type ItemRole = keyof typeof ROLE_KEYS;

interface Props {
  readonly change: string;
  readonly done: () => void;
}
interface WeightProps extends Props {
  /** What may happen to it, the likeliest first. */
  readonly roles?: readonly ItemRole[];
}
const ROLES: readonly ItemRole[] = ['added', 'removed', 'moved'];

/** A new weight of a change: name, mass, place, where the figure is from. */
export function AddWeight({ change, done, roles = ROLES }: WeightProps) {
  const { document } = useBoat();
  const { session } = useEditing();
  const [role, setRole] = useState<ItemRole>(roles[0] ?? 'added');
  const [wrong, setWrong] = useState('');
  const among = `changes.${change}.${ROLE_KEYS[role]}`;
  const keyFor = (name: string) =>
    freeKey(name, 'weight', (key) => at(document, `${among}.${key}`) !== undefined);
  const add = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const id = keyFor(String(data.get('name')));
    const path = `${among}.${id}`;
    const weight = weightIn(data, role);
    const trouble =
      !id || at(document, path) !== undefined ? nameTrouble(id) : numbersTrouble(weight);
    if (trouble) {
      setWrong(trouble);
      return;
    }
    const why = await session.add(path, weight, `${plainWords(id)} ${ROLE_WORDS[role]}`);
    if (why.length > 0) setWrong(why.join(' '));
    else done();
  };
  return (
    <form class="adding" onSubmit={add} aria-label="A new weight">
      <NameField keyFor={keyFor} />
      <label>
        <span>it</span>
        <select
          value={role}
          onChange={(e) => setRole(choiceOf(roles, e.currentTarget.value) ?? role)}
        >
          {roles.map((one) => (
            <option key={one} value={one}>
              {ROLE_WORDS[one]}
            </option>
          ))}
        </select>
      </label>
      <ShortInput name="mass" label="mass" unit="kg" />
      <ShortInput name="at-x" label={role === 'moved' ? 'from x' : 'x'} unit="m" after="aft" />
      <ShortInput name="at-y" label="y" unit="m" after="to starboard" value="0" />
      <ShortInput name="at-z" label="z" unit="m" after="up" />
      {role === 'moved' && (
        <>
          <ShortInput name="to-x" label="to x" unit="m" after="aft" />
          <ShortInput name="to-y" label="y" unit="m" after="to starboard" value="0" />
          <ShortInput name="to-z" label="z" unit="m" after="up" />
        </>
      )}
      <label>
        <span>from</span>
        <select name="from">
          {PROVENANCES.map((word) => (
            <option key={word}>{word}</option>
          ))}
        </select>
      </label>
      <AddingEnd button="Add" cancel={done} wrong={wrong} />
    </form>
  );
}

function weightIn(data: FormData, role: ItemRole) {
  const place = (end: string) =>
    ['x', 'y', 'z'].map((axis) => quantityIn(data, `${end}-${axis}`, 'm'));
  return {
    mass_kg: quantityIn(data, 'mass', 'kg'),
    at_m: place('at'),
    ...(role === 'moved' ? { to_m: place('to') } : {}),
    from: String(data.get('from')),
  };
}

const nameTrouble = (id: string): string =>
  id ? 'This name is already used.' : 'Give it a name with letters or digits.';

function numbersTrouble({ mass_kg, at_m, to_m = [] }: ReturnType<typeof weightIn>): string {
  const areNumbers = [mass_kg, ...at_m, ...to_m].every(Number.isFinite);
  return areNumbers ? '' : `Mass and place must be numbers: ${NUMBER_WANTED}.`;
}

/** A new change, empty. */
export function AddChange() {
  const { document } = useBoat();
  const { session } = useEditing();
  const [wrong, setWrong] = useState('');
  const [added, setAdded] = useState('');
  const keyFor = (name: string) =>
    freeKey(name, 'change', (key) => at(document, `changes.${key}`) !== undefined);
  const add = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const id = keyFor(String(new FormData(event.currentTarget).get('name')));
    if (!id) return setWrong('Give it a name with letters or digits.');
    if (at(document, `changes.${id}`) !== undefined)
      return setWrong('A change with this name already exists.');
    const label = `new change ${plainWords(id)}`;
    const why = await session.add(`changes.${id}`, { stage: 'proposed' }, label);
    setWrong(why.join(' '));
    if (why.length === 0) setAdded(id);
  };
  return (
    <form class="adding new-change" onSubmit={add} aria-label="A new change">
      <NameField key={added} label="Name of the new change" keyFor={keyFor} />
      <button type="submit">Add the change</button>
      <RefusalMessage words={wrong} />
    </form>
  );
}
