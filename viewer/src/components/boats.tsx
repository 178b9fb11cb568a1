/** Other boats of this server, and beginning an empty one. */
import { useId } from 'preact/hooks';
import { useApp } from '../app-context.ts';
import { Archives } from './archives.tsx';
import { BeginBoat } from './begin.tsx';

export function Boats() {
  const { refits, working, go } = useApp();
  const id = useId();
  const open = (boat: string) =>
    go({ boat, condition: undefined, option: null, picked: undefined });
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
              <button
                type="button"
                class="quiet"
                disabled={card.id === working.refit}
                onClick={() => open(card.id)}
              >
                {card.name}
              </button>{' '}
              <small>{card.kept_in}</small>
            </li>
          ))}
        </ul>
        <BeginBoat />
        <Archives />
      </div>
    </>
  );
}
