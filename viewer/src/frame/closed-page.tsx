/** A link that opens nothing any more, or pages that need one. */

import { leave } from '../session/review-api.ts';
import { useDoing } from '../shared/feedback/use-action.ts';
import { Wrong } from '../shared/feedback/wrong.tsx';

export function ClosedPage({ words }: { words: string }) {
  const { busy, wrong, run } = useDoing();
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
      <Wrong words={wrong} />
    </main>
  );
}
