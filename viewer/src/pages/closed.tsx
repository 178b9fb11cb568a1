/** A link that opens nothing any more, or pages that need one. */
import { leave } from '../review-api.ts';

export function ClosedPage({ words }: { words: string }) {
  const forget = async () => {
    await leave();
    location.replace('./');
  };
  return (
    <main class="waiting">
      <h1>hullchange</h1>
      <p role="alert">{words}</p>
      <p>
        <button type="button" class="quiet" onClick={() => void forget()}>
          Forget the link in this browser
        </button>
      </p>
    </main>
  );
}
