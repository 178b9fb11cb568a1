/** Other boats of this server, and beginning an empty one. */
import { useId, useState } from 'preact/hooks';
import * as api from '../api.ts';
import { useApp } from '../app-context.ts';

export function Boats() {
  const { refits, working, go } = useApp();
  const id = useId();
  const [name, setName] = useState('');
  const [refused, setRefused] = useState('');
  const open = (boat: string) => go({ boat, condition: undefined, option: null, picked: undefined });
  const begin = (event: Event) => {
    event.preventDefault();
    api
      .beginRefit(name)
      .then((card) => {
        location.hash = `#/float?boat=${encodeURIComponent(card.id)}`;
        location.reload();
      })
      .catch((error: unknown) => setRefused(error instanceof Error ? error.message : ''));
  };
  return (
    <>
      <button type="button" class="quiet" popovertarget={id}>
        Boats
      </button>
      <div id={id} popover="auto" class="opened boats">
        <h3>Boats of this server</h3>
        <ul>
          {refits.map((card) => (
            <li key={card.id}>
              <button type="button" class="quiet" disabled={card.id === working.refit} onClick={() => open(card.id)}>
                {card.name}
              </button>{' '}
              <small>{card.kept_in}</small>
            </li>
          ))}
        </ul>
        <form onSubmit={begin}>
          <label>
            <span>Begin an empty one, called</span>
            <input value={name} onInput={(e) => setName(e.currentTarget.value)} required />
          </label>
          {refused && <p class="refused">{refused}</p>}
          <button type="submit">Begin</button>
        </form>
      </div>
    </>
  );
}
