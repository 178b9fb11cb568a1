/** What was deleted last, with its undo: it stays ten seconds, and as long as it is looked at. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { useBoat, useEditing, useSnapshot } from '../session/context.tsx';

const STAYS_MS = 10_000;

export function DeletedToast() {
  const { working } = useBoat();
  const { session } = useEditing();
  const { deleted } = useSnapshot();
  const [done, setDone] = useState(0);
  const toast = useRef<HTMLDivElement>(null);
  const isLast = deleted !== undefined && working.undo_label === deleted.label;
  const shown = isLast && deleted.edit > done ? deleted : undefined;
  const close = () => {
    if (toast.current?.contains(document.activeElement)) document.querySelector('main')?.focus();
    setDone(deleted?.edit ?? 0);
  };
  useEffect(() => {
    if (!shown) return undefined;
    const look = () => {
      if (toast.current?.matches(':hover, :focus-within')) timer = setTimeout(look, STAYS_MS);
      else close();
    };
    let timer = setTimeout(look, STAYS_MS);
    return () => clearTimeout(timer);
  }, [shown]);
  return (
    <div ref={toast} class="toast" role="status">
      {shown && (
        <p>
          <span>{shown.label}.</span>{' '}
          <button
            type="button"
            onClick={() => {
              close();
              session.undoOrRedo('undo');
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
