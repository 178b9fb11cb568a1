/** While there is nothing to show yet. */
import { Seconds } from './seconds.tsx';

export const Waiting = ({ words }: { words: string }) => (
  <main class="waiting">
    <h1>hullchange</h1>
    <p>
      <span role="status">{words}</span>
      <Seconds />
    </p>
  </main>
);
