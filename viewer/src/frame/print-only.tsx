/** The printed sheet of pages that are not printed themselves: made when the printer asks. */
import { type ComponentChild, render } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { PrintSheet } from '../print/page.tsx';
import { AppContext, SnapshotContext, useApp, useSnapshot } from '../session/context.ts';

export function PrintOnly() {
  const shown = useApp();
  const snapshot = useSnapshot();
  const sheet = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const fill = (content: ComponentChild) => sheet.current && render(content, sheet.current);
    const before = () =>
      fill(
        <SnapshotContext.Provider value={snapshot}>
          <AppContext.Provider value={shown}>
            <PrintSheet />
          </AppContext.Provider>
        </SnapshotContext.Provider>,
      );
    const after = () => fill(null);
    addEventListener('beforeprint', before);
    addEventListener('afterprint', after);
    return () => {
      removeEventListener('beforeprint', before);
      removeEventListener('afterprint', after);
    };
  }, [shown, snapshot]);
  return <div class="print-only" ref={sheet} />;
}
