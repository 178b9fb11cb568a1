/** Numbers that open: what they mean, what goes into them, where they are in the document. */
import { type ComponentChildren } from 'preact';
import { useId, useRef } from 'preact/hooks';

export interface Explained {
  readonly title: string;
  readonly meaning: string;
  readonly rows?: readonly (readonly [string, string])[];
  /** Path of the value or result, as the command line and targets write it. */
  readonly path?: string;
}

interface Props {
  readonly children: ComponentChildren;
  readonly explained: Explained;
  readonly class?: string;
}

/** Opens on click or Enter, closes with Escape or a click elsewhere. */
export function Opens({ children, explained, class: look = '' }: Props) {
  const id = useId();
  const button = useRef<HTMLButtonElement>(null);
  const card = useRef<HTMLDivElement>(null);
  const place = () => {
    if (button.current && card.current) placeBeside(button.current, card.current);
  };
  return (
    <>
      <button ref={button} type="button" class={`opens ${look}`} popovertarget={id}>
        {children}
      </button>
      <div ref={card} id={id} popover="auto" class="opened" onToggle={place}>
        <h3>{explained.title}</h3>
        <p>{explained.meaning}</p>
        {explained.rows && (
          <table>
            <tbody>
              {explained.rows.map(([name, value]) => (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  <td>{value}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {explained.path && <code>{explained.path}</code>}
      </div>
    </>
  );
}

function placeBeside(button: HTMLElement, card: HTMLElement): void {
  const at = button.getBoundingClientRect();
  const room = document.documentElement.clientWidth - card.offsetWidth - 8;
  const below = at.bottom + 6;
  const fits = below + card.offsetHeight < document.documentElement.clientHeight;
  card.style.left = `${Math.max(8, Math.min(at.left, room))}px`;
  card.style.top = `${fits ? below : Math.max(8, at.top - card.offsetHeight - 6)}px`;
}
