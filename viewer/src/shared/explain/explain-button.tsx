/** Numbers that open: what they mean, how they come about, where they are in the document. */
import type { ComponentChildren } from 'preact';
import { useId, useRef, useState } from 'preact/hooks';
import { type Explained, ExplanationCard } from './explanation-card.tsx';

interface Props {
  readonly children: ComponentChildren;
  readonly explained: Explained;
  readonly class?: string;
}

/** Opens on click or Enter, closes with Escape or a click elsewhere; what is in it opens too. */
export function ExplainButton({ children, explained, class: look = '' }: Props) {
  const id = useId();
  const button = useRef<HTMLButtonElement>(null);
  const card = useRef<HTMLDivElement>(null);
  const [open, setOpen] = useState(false);
  const place = () => {
    if (button.current && card.current) placeBeside(button.current, card.current);
  };
  const close = () => card.current?.hidePopover();
  return (
    <>
      <button ref={button} type="button" class={`opens ${look}`} popovertarget={id}>
        {children}
      </button>
      <div
        ref={card}
        id={id}
        popover="auto"
        class="opened"
        role="dialog"
        aria-label={explained.title}
        onBeforeToggle={(e) => e.newState === 'open' && setOpen(true)}
        onToggle={(e) => (e.newState === 'open' ? place() : setOpen(false))}
      >
        {open && <ExplanationCard explained={explained} place={place} close={close} />}
      </div>
    </>
  );
}

export function placeBeside(button: HTMLElement, card: HTMLElement): void {
  const at = button.getBoundingClientRect();
  const room = document.documentElement.clientWidth - card.offsetWidth - 8;
  const tall = document.documentElement.clientHeight;
  const below = at.bottom + 6;
  const above = at.top - card.offsetHeight - 6;
  const top = below + card.offsetHeight < tall ? below : above;
  card.style.left = `${Math.max(8, Math.min(at.left, room))}px`;
  card.style.top = `${Math.max(8, Math.min(top, tall - card.offsetHeight - 8))}px`;
}
