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
        You can see everything, comment and sign, but you cannot change the boat. Your name is shown
        beside what you write.
      </p>
      <form class="asking" onSubmit={(event) => void send(event)}>
        <label>
          <span>Your name and profession, as you sign</span>
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
