/** The printed sheet of pages that are not printed themselves: made when the printer asks. */
import { type ComponentChild, render } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { PrintSheet } from '../print/page.tsx';
import { usePictureSource } from '../print/picture.tsx';
import { fetchAhead, isThere } from '../print/picture-ahead.ts';
import { Provide, useAll } from '../session/context.tsx';

export function PrintOnly() {
  const all = useAll();
  const sheet = useRef<HTMLDivElement>(null);
  const isWaiting = usePictureBeforePrinting();
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
  return (
    <>
      <div class="print-only" ref={sheet} />
      {isWaiting && (
        <p class="toast" role="status">
          Drawing the boat for the printed page…
        </p>
      )}
    </>
  );
}

/**
 * Printing does not wait for a picture: so the print keys do, and it is fetched when the pointer
 * leaves the page upwards, towards the browser's menu. Whether it is being waited for.
 */
function usePictureBeforePrinting(): boolean {
  const source = usePictureSource();
  const [isWaiting, setWaiting] = useState(false);
  useEffect(() => {
    const keys = (e: KeyboardEvent) => {
      if (e.key.toLowerCase() !== 'p' || !(e.ctrlKey || e.metaKey) || isThere(source)) return;
      e.preventDefault();
      setWaiting(true);
      void fetchAhead(source).then(() => {
        setWaiting(false);
        print();
      });
    };
    const toMenu = (e: MouseEvent) => {
      if (e.clientY <= 0) void fetchAhead(source);
    };
    addEventListener('keydown', keys);
    document.documentElement.addEventListener('mouseleave', toMenu);
    return () => {
      removeEventListener('keydown', keys);
      document.documentElement.removeEventListener('mouseleave', toMenu);
    };
  }, [source]);
  return isWaiting;
}
