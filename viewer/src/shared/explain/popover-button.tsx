/** A button that opens a card beside itself; Escape or a press elsewhere closes it. */
import type { ComponentChildren } from 'preact';
import { useId, useRef, useState } from 'preact/hooks';
import { placeBeside } from './explain-button.tsx';

interface Props {
  readonly words: ComponentChildren;
  readonly label: string;
  readonly class?: string;
  /** The id of what says more of it. */
  readonly describedBy?: string;
  readonly children: ComponentChildren;
}

export function PopoverButton({ words, label, class: look = '', describedBy, children }: Props) {
  const id = useId();
  const button = useRef<HTMLButtonElement>(null);
  const card = useRef<HTMLDivElement>(null);
  const [open, setOpen] = useState(false);
  const toggled = (newState: string) => {
    if (newState !== 'open') return setOpen(false);
    if (button.current && card.current) placeBeside(button.current, card.current);
    return card.current?.focus();
  };
  return (
    <>
      <button
        ref={button}
        type="button"
        class={look}
        popovertarget={id}
        aria-describedby={describedBy}
      >
        {words}
      </button>
      <div
        ref={card}
        id={id}
        popover="auto"
        class="opened"
        role="dialog"
        tabIndex={-1}
        aria-label={label}
        onBeforeToggle={(e) => e.newState === 'open' && setOpen(true)}
        onToggle={(e) => toggled(e.newState)}
      >
        {open && children}
      </div>
    </>
  );
}
