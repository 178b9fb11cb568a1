/** The base design and the options made over it. */
import { useId, useState } from 'preact/hooks';
import { useBoat, useEditing, useRoute } from '../session/context.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { NameField } from '../shared/fields/name-field.tsx';
import { freeKey, optionWords, plainWords } from '../shared/words/plain-words.ts';

export function Options() {
  const { working } = useBoat();
  const { route, go } = useRoute();
  const { readOnly } = useEditing();
  if (readOnly && working.options.length === 0)
    return <p class="options">option: {optionWords(route.option)}</p>;
  return (
    <div class="options">
      <label>
        <span>option</span>
        <select
          value={route.option ?? ''}
          onChange={(e) => go({ option: e.currentTarget.value || null })}
        >
          <option value="">{optionWords(null)}</option>
          {working.options.map((option) => (
            <option key={option} value={option}>
              {optionWords(option)}
            </option>
          ))}
        </select>
      </label>
      <WhenEditable>
        <NewOption />
      </WhenEditable>
    </div>
  );
}

function NewOption() {
  const { working } = useBoat();
  const { session } = useEditing();
  const { go } = useRoute();
  const id = useId();
  const [begun, setBegun] = useState('');
  const [wrong, setWrong] = useState('');
  const keyFor = (name: string) => freeKey(name, 'option', (key) => working.options.includes(key));
  const begin = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const option = keyFor(String(new FormData(event.currentTarget).get('name')));
    if (!option) return setWrong('Give it a name with letters or digits.');
    if (working.options.includes(option))
      return setWrong(`An option ${plainWords(option)} already exists.`);
    const label = `new option ${plainWords(option)}`;
    const why = await session.add(`options.${option}`, { set: {} }, label);
    setWrong(why.join(' '));
    if (why.length > 0) return undefined;
    setBegun(option);
    document.getElementById(id)?.hidePopover();
    return go({ option });
  };
  return (
    <>
      <button type="button" class="quiet" popovertarget={id}>
        New option
      </button>
      <form id={id} popover="auto" class="opened" onSubmit={begin}>
        <h3>A new option</h3>
        <p>
          An option keeps whatever you change, add or leave out while it is chosen; the base design
          is not changed.
        </p>
        <NameField key={begun} keyFor={keyFor} />
        <RefusalMessage words={wrong} />
        <button type="submit">Begin</button>
      </form>
    </>
  );
}
