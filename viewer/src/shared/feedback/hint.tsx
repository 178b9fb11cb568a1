/** Quiet hints of the first minute; each goes away for good. */
import { useState } from 'preact/hooks';

const KEPT = 'hullchange.hints-gone';

function gone(): readonly string[] {
  try {
    const stored: unknown = JSON.parse(localStorage.getItem(KEPT) ?? '[]');
    return Array.isArray(stored) ? stored.map(String) : [];
  } catch {
    return [];
  }
}

/** A hint is done with: it does not come back. */
function forgetHint(id: string): void {
  const known = gone();
  if (!known.includes(id)) localStorage.setItem(KEPT, JSON.stringify([...known, id]));
}

export function Hint({ id, children }: { id: string; children: string }) {
  const [shown, setShown] = useState(() => !gone().includes(id));
  if (!shown) return null;
  const close = () => {
    forgetHint(id);
    setShown(false);
  };
  return (
    <p class="hint">
      {children}{' '}
      <button type="button" class="quiet" onClick={close}>
        Got it
      </button>
    </p>
  );
}
