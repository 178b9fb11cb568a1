/** Boats that were deleted, each with its undo. */
import { useEffect, useState } from 'preact/hooks';
import * as api from '../api.ts';
import { useFleet } from '../app-context.ts';
import type { RefitCard } from '../contract.ts';
import { useDoing } from './use-doing.ts';
import { Wrong } from './wrong.tsx';

/** The list; read anew when `turn` is another. */
export function DeletedBoats({ turn = 0 }: { turn?: number }) {
  const [cards, setCards] = useState<readonly RefitCard[]>([]);
  useEffect(() => {
    api.deletedRefits().then(setCards, () => setCards([]));
  }, [turn]);
  if (cards.length === 0) return null;
  return (
    <section class="deleted" aria-label="Deleted boats">
      <h3>Deleted boats</h3>
      <ul>
        {cards.map((card) => (
          <li key={card.id}>
            {card.name} <BringBack card={card} words="Bring back" />
          </li>
        ))}
      </ul>
    </section>
  );
}

export function BringBack({ card, words }: { card: RefitCard; words: string }) {
  const { bringBack } = useFleet();
  const { busy, wrong, run } = useDoing();
  return (
    <>
      <button
        type="button"
        class="quiet"
        disabled={busy}
        onClick={() => void run(() => bringBack(card))}
      >
        {words}
        <span class="unseen"> {card.name}</span>
      </button>
      <Wrong words={wrong} />
    </>
  );
}

/** Deletes a boat; it is undone from the word that says so. */
export function DeleteBoat({ card }: { card: RefitCard }) {
  const { remove } = useFleet();
  const { busy, wrong, run } = useDoing();
  return (
    <>
      <button
        type="button"
        class="quiet"
        disabled={busy}
        onClick={() => void run(() => remove(card))}
      >
        delete<span class="unseen"> {card.name}</span>
      </button>
      <Wrong words={wrong} />
    </>
  );
}
