/** The printed sheet of pages that are not printed themselves: made when the printer asks. */
import { type ComponentChild, render } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { PrintSheet } from '../print/page.tsx';
import { Provide, useAll } from '../session/context.tsx';

export function PrintOnly() {
  const all = useAll();
  const sheet = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const fill = (content: ComponentChild) => sheet.current && render(content, sheet.current);
    const before = () =>
      fill(
        <Provide all={all}>
          <PrintSheet />
        </Provide>,
      );
    const after = () => fill(null);
    addEventListener('beforeprint', before);
    addEventListener('afterprint', after);
    return () => {
      removeEventListener('beforeprint', before);
      removeEventListener('afterprint', after);
    };
  }, Object.values(all));
  return <div class="print-only" ref={sheet} />;
}
