/** A button that opens a card beside itself; Escape or a press elsewhere closes it. */
import type { ComponentChildren } from 'preact';
import { useId, useRef, useState } from 'preact/hooks';

interface Props {
  readonly words: ComponentChildren;
  readonly label: string;
  readonly class?: string;
  /** The id of the element that describes it. */
  readonly describedBy?: string;
  readonly children: ComponentChildren;
}

export function PopoverButton({ words, label, class: look = '', describedBy, children }: Props) {
  const { isOpen, button, card } = usePopover((opened) => opened.focus());
  return (
    <>
      <button type="button" class={look} aria-describedby={describedBy} {...button}>
        {words}
      </button>
      <div role="dialog" tabIndex={-1} aria-label={label} {...card}>
        {isOpen && children}
      </div>
    </>
  );
}

/** Whether the card is open, placing and closing it, and what the button and the card take. */
export function usePopover(opened: (card: HTMLElement) => void = () => undefined) {
  const id = useId();
  const button = useRef<HTMLButtonElement>(null);
  const card = useRef<HTMLDivElement>(null);
  const [isOpen, setOpen] = useState(false);
  const place = () => {
    if (button.current && card.current) placeBeside(button.current, card.current);
  };
  return {
    isOpen,
    place,
    close: () => card.current?.hidePopover(),
    button: { ref: button, popovertarget: id },
    card: {
      ref: card,
      id,
      popover: 'auto',
      class: 'opened',
      onBeforeToggle: (e: Pick<ToggleEvent, 'newState'>) => e.newState === 'open' && setOpen(true),
      onToggle: (e: Pick<ToggleEvent, 'newState'>) => {
        if (e.newState !== 'open') return setOpen(false);
        place();
        if (card.current) opened(card.current);
        return undefined;
      },
    },
  } as const;
}

function placeBeside(button: HTMLElement, card: HTMLElement): void {
  const at = button.getBoundingClientRect();
  const room = document.documentElement.clientWidth - card.offsetWidth - 8;
  const tall = document.documentElement.clientHeight;
  const below = at.bottom + 6;
  const above = at.top - card.offsetHeight - 6;
  const top = below + card.offsetHeight < tall ? below : above;
  card.style.left = `${Math.max(8, Math.min(at.left, room))}px`;
  card.style.top = `${Math.max(8, Math.min(top, tall - card.offsetHeight - 8))}px`;
}
