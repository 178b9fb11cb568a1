/** The first drawing and the other plans made over it. */
import { useId, useState } from 'preact/hooks';
import { useApp } from '../app-context.ts';
import { idOf, plainWords } from '../words.ts';
import { Editing } from './editing.tsx';

export function Plans() {
  const { working, route, go, readOnly } = useApp();
  if (readOnly && working.options.length === 0) {
    const plan = route.option === null ? 'first drawing' : plainWords(route.option);
    return <p class="plans">plan: {plan}</p>;
  }
  return (
    <div class="plans">
      <label>
        <span>plan</span>
        <select
          value={route.option ?? ''}
          onChange={(e) => go({ option: e.currentTarget.value || null })}
        >
          <option value="">first drawing</option>
          {working.options.map((option) => (
            <option key={option} value={option}>
              {plainWords(option)}
            </option>
          ))}
        </select>
      </label>
      <Editing>
        <NewPlan />
      </Editing>
    </div>
  );
}

function NewPlan() {
  const { working, session } = useApp();
  const id = useId();
  const [name, setName] = useState('');
  const plan = idOf(name);
  const begin = (event: Event) => {
    event.preventDefault();
    if (!plan || working.options.includes(plan)) return;
    session.send(
      [{ op: 'set', path: `options.${plan}`, value: { set: {} } }],
      `new plan ${plainWords(plan)}`,
    );
    setName('');
    document.getElementById(id)?.hidePopover();
  };
  return (
    <>
      <button type="button" class="quiet" popovertarget={id}>
        New plan
      </button>
      <form id={id} popover="auto" class="opened" onSubmit={begin}>
        <h3>A new plan</h3>
        <p>
          A plan keeps the values you set in it and leaves the first drawing as it is. Choose it
          in the list once it is there.
        </p>
        <label>
          <span>called</span>
          <input value={name} onInput={(e) => setName(e.currentTarget.value)} required />
        </label>
        {plan && working.options.includes(plan) && <p class="refused">There is such a plan.</p>}
        <button type="submit">Begin</button>
      </form>
    </>
  );
}
