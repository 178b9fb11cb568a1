/** The empty start. */
import type { Problem } from '../contract.ts';

export function StartPage({ problem }: { refit: string | undefined; problem: Problem | undefined }) {
  return (
    <main class="waiting">
      <h1>hullchange</h1>
      <p>{problem?.detail}</p>
    </main>
  );
}
