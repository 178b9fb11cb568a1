/** Beginning a boat by her name and main dimensions. */
import { useState } from 'preact/hooks';
import type { RefitCard } from '../contract.ts';
import * as api from '../session/api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { UnderWay } from '../shared/feedback/under-way.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { BoatDimensions, boatDimensionsIn } from '../shared/input/main-dimensions.tsx';

export function BeginBoat() {
  const [missing, setMissing] = useState('');
  const { busy, wrong, run, stop } = useAction();
  const begin = (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const { given, trouble } = boatDimensionsIn(data);
    setMissing(trouble);
    if (given)
      void run(async (signal) =>
        show(await api.beginRefit(String(data.get('name')), given, signal), 'start'),
      );
  };
  return (
    <form class="new-boat" onSubmit={begin} aria-label="Begin a boat">
      <label class="asked">
        <span>New boat, name</span>
        <input name="name" autocomplete="off" required />
      </label>
      <fieldset>
        <legend>Her main dimensions</legend>
        <p class="about">
          From a brochure, a tape or a good guess. Whatever they leave open is assumed from usual
          proportions and marked so, until you measure it.
        </p>
        <div class="dimensions">
          <BoatDimensions />
        </div>
      </fieldset>
      <button type="submit" disabled={busy}>
        Begin
      </button>
      {busy && <UnderWay words="Drawing a first hull and floating her…" stop={stop} />}
      <RefusalMessage words={missing || wrong} />
    </form>
  );
}

/** Loads everything anew with a boat of this server. */
export function show(card: RefitCard, page = 'float'): void {
  location.hash = `#/${page}?boat=${encodeURIComponent(card.id)}`;
  location.reload();
}
