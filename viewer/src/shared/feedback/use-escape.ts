/** Folds what is unfolded with the Escape key, and goes back to the button that unfolded it. */
import type { RefObject } from 'preact';
import { useEffect } from 'preact/hooks';

export function useEscape(
  open: boolean,
  fold: () => void,
  button: RefObject<HTMLButtonElement | null>,
): void {
  useEffect(() => {
    if (!open) return undefined;
    const press = (e: KeyboardEvent) => {
      if (e.key !== 'Escape' || e.defaultPrevented || isCardOpen()) return;
      if (!button.current?.checkVisibility()) return;
      fold();
      button.current.focus();
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, [open]);
}

/** A card that is open takes the key first. */
const isCardOpen = () => document.querySelector(':popover-open') !== null;
