/** A table that may be wider than the page: it scrolls by itself. */
import type { ComponentChildren } from 'preact';

interface Props {
  readonly label: string;
  readonly class?: string;
  readonly children: ComponentChildren;
}

export function ScrollBox({ label, class: look = '', children }: Props) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: without a stop for the Tab key it scrolls by pointer alone
    <section class={`scrolls ${look}`.trim()} tabIndex={0} aria-label={label}>
      {children}
    </section>
  );
}
