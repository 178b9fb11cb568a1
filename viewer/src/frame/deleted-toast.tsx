/** What was deleted last, with its undo: it stays ten seconds, and as long as it is looked at. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { useBoat, useEditing, useSnapshot } from '../session/context.tsx';

const STAYS_MS = 10_000;

export function DeletedToast() {
  const { working } = useBoat();
  const { session } = useEditing();
  const { deleted } = useSnapshot();
  const [done, setDone] = useState(0);
  const [held, setHeld] = useState(false);
  const toast = useRef<HTMLDivElement>(null);
  const isLast = deleted !== undefined && working.undo_label === deleted.label;
  const shown = isLast && deleted.edit > done ? deleted : undefined;
  const close = () => {
    if (toast.current?.contains(document.activeElement)) document.querySelector('main')?.focus();
    setHeld(false);
    setDone(deleted?.edit ?? 0);
  };
  useEffect(() => {
    if (!shown || held) return undefined;
    const timer = setTimeout(close, STAYS_MS);
    return () => clearTimeout(timer);
  }, [shown, held]);
  return (
    <div
      ref={toast}
      class="toast"
      role="status"
      onPointerEnter={() => setHeld(true)}
      onPointerLeave={() => setHeld(toast.current?.contains(document.activeElement) ?? false)}
      onFocusIn={() => setHeld(true)}
      onFocusOut={() => setHeld(toast.current?.matches(':hover') ?? false)}
    >
      {shown && (
        <p>
          <span>{shown.label}.</span>{' '}
          <button
            type="button"
            onClick={() => {
              close();
              session.travel('undo');
            }}
          >
            Undo
          </button>{' '}
          <button type="button" class="quiet" aria-label="Close: deleted" onClick={close}>
            Close
          </button>
        </p>
      )}
    </div>
  );
}
