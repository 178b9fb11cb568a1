/** A reviewer's name, asked once: it stands beside whatever is written. */

import { giveName } from '../session/review-api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';

export function NamePage({ done }: { done: () => void }) {
  const { busy, wrong, run } = useAction();
  const send = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const name = String(new FormData(event.currentTarget).get('name')).trim();
    if (await run(() => giveName(name))) done();
  };
  return (
    <main class="waiting">
      <h1>A refit for your review</h1>
      <p>
        You see everything, write comments and sign. You change nothing of the boat. Your name
        stands beside what you write.
      </p>
      <form class="asking" onSubmit={(event) => void send(event)}>
        <label>
          <span>Your name, and what you sign as</span>
          <input name="name" required maxLength={200} autocomplete="name" />
        </label>
        <button type="submit" disabled={busy}>
          Open the review
        </button>
        <RefusalMessage words={wrong} />
      </form>
    </main>
  );
}
