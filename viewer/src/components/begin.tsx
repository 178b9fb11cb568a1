/** Beginning an empty boat by her name. */
import { useState } from 'preact/hooks';
import * as api from '../api.ts';
import { keepStart } from '../start.ts';

export function BeginBoat() {
  const [name, setName] = useState('');
  const [refused, setRefused] = useState('');
  const begin = (event: Event) => {
    event.preventDefault();
    api
      .beginRefit(name)
      .then((card) => {
        keepStart(card.id, []);
        location.hash = `#/start?boat=${encodeURIComponent(card.id)}`;
        location.reload();
      })
      .catch((error: unknown) => setRefused(error instanceof Error ? error.message : ''));
  };
  return (
    <form onSubmit={begin} aria-label="Begin a boat">
      <label>
        <span>Begin an empty boat, called</span>{' '}
        <input value={name} onInput={(e) => setName(e.currentTarget.value)} required />
      </label>{' '}
      <button type="submit">Begin</button>
      {refused && (
        <p class="refused" role="alert">
          {refused}
        </p>
      )}
    </form>
  );
}
