/** Other boats of this server, and beginning an empty one. */
import { useId, useState } from 'preact/hooks';
import { useBoat, useKnown, useRoute } from '../session/context.tsx';
import { Archives } from './archives.tsx';
import { DeleteBoat, DeletedBoats } from './deleted-boats.tsx';
import { BeginBoat } from './new-boat.tsx';

export function BoatList() {
  const { refits } = useKnown();
  const { working } = useBoat();
  const { go } = useRoute();
  const id = useId();
  const [turn, setTurn] = useState(0);
  const open = (boat: string) =>
    go({ boat, condition: undefined, option: null, picked: undefined });
  return (
    <>
      <button type="button" class="quiet" popovertarget={id}>
        Boats
      </button>
      <div
        id={id}
        popover="auto"
        class="opened boats"
        onToggle={(e) => e.newState === 'open' && setTurn(turn + 1)}
      >
        <h3>Your boats</h3>
        <ul>
          {refits.map((card) => (
            <li key={card.id}>
              <button
                type="button"
                class="quiet"
                disabled={card.id === working.refit}
                onClick={() => open(card.id)}
              >
                {card.name}
              </button>{' '}
              <small>{card.kept_in}</small> <DeleteBoat card={card} />
            </li>
          ))}
        </ul>
        <DeletedBoats turn={turn} />
        <BeginBoat />
        <Archives />
      </div>
    </>
  );
}
