/** On a phone the panel is a sheet from below: its handle is pressed or drawn up and down. */
import { useRef } from 'preact/hooks';
import { useEscape } from '../feedback/use-escape.ts';

const DRAWN_PX = 24;

interface Props {
  readonly up: boolean;
  readonly setUp: (up: boolean) => void;
  readonly words: string;
}

export function PanelHandle({ up, setUp, words }: Props) {
  const handle = useRef<HTMLButtonElement>(null);
  useEscape(up, () => setUp(false), handle);
  const from = useRef<number>(undefined);
  const drawn = useRef(false);
  return (
    <button
      ref={handle}
      type="button"
      class="panel-handle"
      aria-expanded={up}
      aria-controls="panel-inside"
      onPointerDown={(e) => {
        from.current = e.clientY;
        drawn.current = false;
        e.currentTarget.setPointerCapture(e.pointerId);
      }}
      onPointerMove={(e) => {
        const by = from.current === undefined ? 0 : from.current - e.clientY;
        if (Math.abs(by) < DRAWN_PX) return;
        drawn.current = true;
        setUp(by > 0);
      }}
      onPointerUp={() => {
        from.current = undefined;
      }}
      onPointerCancel={() => {
        from.current = undefined;
      }}
      onClick={() => {
        if (!drawn.current) setUp(!up);
        drawn.current = false;
      }}
    >
      <span class="panel-grip" aria-hidden="true" />
      {words}
    </button>
  );
}

/** Puts the sheet up, where there is one, and goes to it. */
export function raisePanel(): void {
  const handle = document.querySelector<HTMLElement>('.panel-handle');
  if (!handle?.checkVisibility()) return;
  if (handle.getAttribute('aria-expanded') === 'false') handle.click();
  handle.focus({ preventScroll: true });
}
