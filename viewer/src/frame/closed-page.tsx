/** A link that opens nothing any more, or pages that need one. */

import { leave } from '../session/review-api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';

export function ClosedPage({ words }: { words: string }) {
  const { busy, wrong, run } = useAction();
  const forget = () =>
    run(async () => {
      await leave();
      location.replace('./');
    });
  return (
    <main class="waiting">
      <h1>hullchange</h1>
      <p role="alert">{words}</p>
      <p>
        <button type="button" class="quiet" disabled={busy} onClick={() => void forget()}>
          Forget the link in this browser
        </button>
      </p>
      <RefusalMessage words={wrong} />
    </main>
  );
}
