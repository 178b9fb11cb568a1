/** Beginning an empty boat by her name. */
import { useState } from 'preact/hooks';
import type { RefitCard } from '../contract.ts';
import * as api from '../session/api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';

export function BeginBoat() {
  const [name, setName] = useState('');
  const { busy, wrong, run } = useAction();
  const begin = (event: Event) => {
    event.preventDefault();
    void run(async () => {
      const card = await api.beginRefit(name);
      show(card, 'start');
    });
  };
  return (
    <form onSubmit={begin} aria-label="Begin a boat">
      <label>
        <span>New boat, name</span>{' '}
        <input value={name} onInput={(e) => setName(e.currentTarget.value)} required />
      </label>{' '}
      <button type="submit" disabled={busy}>
        Begin
      </button>
      <RefusalMessage words={wrong} />
    </form>
  );
}

/** Loads everything anew with a boat of this server. */
export function show(card: RefitCard, page = 'float'): void {
  location.hash = `#/${page}?boat=${encodeURIComponent(card.id)}`;
  location.reload();
}
