/** What was deleted from something that is not sent yet, with its undo beside it. */
import { useState } from 'preact/hooks';
import { losesEntries } from '../boat/document.ts';

/** Sets a value, and the line that takes its last deletion back. */
export function useTakeBack<T>(value: T, set: (next: T) => void) {
  const [before, keep] = useState<{ readonly value: T }>();
  const put = (next: T) => {
    keep(losesEntries(value, next) ? { value } : undefined);
    set(next);
  };
  const line = before && (
    <p role="status">
      Deleted.{' '}
      <button type="button" class="quiet" onClick={() => put(before.value)}>
        Undo<span class="unseen"> the deletion</span>
      </button>
    </p>
  );
  return { put, line };
}
