/** Numbers that open: what they mean, how they come about, where they are in the document. */
import type { ComponentChildren } from 'preact';
import { type Explained, ExplanationCard } from './explanation-card.tsx';
import { usePopover } from './popover-button.tsx';

interface Props {
  readonly children: ComponentChildren;
  readonly explained: Explained;
  readonly class?: string;
}

/** Opens on click or Enter, closes with Escape or a click elsewhere; what is in it opens too. */
export function ExplainButton({ children, explained, class: look = '' }: Props) {
  const { isOpen, place, close, button, card } = usePopover();
  return (
    <>
      <button type="button" class={`opens ${look}`} {...button}>
        {children}
      </button>
      <div role="dialog" aria-label={explained.title} {...card}>
        {isOpen && <ExplanationCard explained={explained} place={place} close={close} />}
      </div>
    </>
  );
}
