/** The base design and the options made over it. */
import { useId, useState } from 'preact/hooks';
import { useApp } from '../app-context.ts';
import { idOf, optionWords, plainWords } from '../words.ts';
import { Editing } from './editing.tsx';
import { Wrong } from './wrong.tsx';

export function Options() {
  const { working, route, go, readOnly } = useApp();
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
      <Editing>
        <NewOption />
      </Editing>
    </div>
  );
}

function NewOption() {
  const { working, session, go } = useApp();
  const id = useId();
  const [name, setName] = useState('');
  const [wrong, setWrong] = useState('');
  const option = idOf(name);
  const begin = async (event: Event) => {
    event.preventDefault();
    if (!option) return setWrong('Give it a name with letters or digits.');
    if (working.options.includes(option))
      return setWrong(`There is an option called ${plainWords(option)} already.`);
    const label = `new option ${plainWords(option)}`;
    const why = await session.add(`options.${option}`, { set: {} }, label);
    setWrong(why.join(' '));
    if (why.length > 0) return undefined;
    setName('');
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
          An option keeps what you change, add or leave out while it is chosen; the base design
          stays as it is.
        </p>
        <label>
          <span>name</span>
          <input value={name} onInput={(e) => setName(e.currentTarget.value)} required />
        </label>
        <Wrong words={wrong} />
        <button type="submit">Begin</button>
      </form>
    </>
  );
}
