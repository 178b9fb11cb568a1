/** A reviewer's name, asked once: it stands beside whatever is written. */
import { useDoing } from '../components/use-doing.ts';
import { Wrong } from '../components/wrong.tsx';
import { giveName } from '../review-api.ts';

export function NamePage({ done }: { done: () => void }) {
  const { busy, wrong, run } = useDoing();
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
        <Wrong words={wrong} />
      </form>
    </main>
  );
}
