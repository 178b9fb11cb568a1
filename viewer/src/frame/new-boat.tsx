/** Beginning a boat by her name and, where they are known, her main dimensions. */
import { useState } from 'preact/hooks';
import type { RefitCard } from '../contract.ts';
import * as api from '../session/api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { BoatDimensions, boatDimensionsIn } from '../shared/input/main-dimensions.tsx';

export function BeginBoat() {
  const [missing, setMissing] = useState('');
  const { busy, wrong, run } = useAction();
  const begin = (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const { given, trouble, isEmpty } = boatDimensionsIn(data);
    setMissing(isEmpty ? '' : trouble);
    if (given || isEmpty)
      void run(async () =>
        show(await api.beginRefit(String(data.get('name')), given ?? null), 'start'),
      );
  };
  return (
    <form class="new-boat" onSubmit={begin} aria-label="Begin a boat">
      <label>
        <span>New boat, name</span> <input name="name" required />
      </label>
      <details>
        <summary>Her main dimensions, from a brochure or a tape: she then begins with them</summary>
        <p class="about">
          What is not known yet is assumed from proportions and marked so, until you measure it.
          Without dimensions she begins as an invented boat, all of it marked as assumed.
        </p>
        <div class="dimensions">
          <BoatDimensions />
        </div>
      </details>
      <button type="submit" disabled={busy}>
        Begin
      </button>
      <RefusalMessage words={missing || wrong} />
    </form>
  );
}

/** Loads everything anew with a boat of this server. */
export function show(card: RefitCard, page = 'float'): void {
  location.hash = `#/${page}?boat=${encodeURIComponent(card.id)}`;
  location.reload();
}
