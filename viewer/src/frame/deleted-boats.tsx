/** Boats that were deleted, each with its undo. */
import { useEffect, useState } from 'preact/hooks';
import type { RefitCard } from '../contract.ts';
import * as api from '../session/api.ts';
import { useFleet } from '../session/context.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';

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
  return <ActionButton run={() => bringBack(card)} words={words} name={card.name} />;
}

/** Deletes a boat; it is undone from the word that says so. */
export function DeleteBoat({ card }: { card: RefitCard }) {
  const { remove } = useFleet();
  return <ActionButton run={() => remove(card)} words="delete" name={card.name} />;
}

interface ActionProps {
  readonly run: () => Promise<void>;
  readonly words: string;
  /** Of the boat, for screen readers. */
  readonly name: string;
}

function ActionButton({ run, words, name }: ActionProps) {
  const doing = useAction();
  return (
    <>
      <button type="button" class="quiet" disabled={doing.busy} onClick={() => void doing.run(run)}>
        {words}
        <span class="unseen"> {name}</span>
      </button>
      <RefusalMessage words={doing.wrong} />
    </>
  );
}
