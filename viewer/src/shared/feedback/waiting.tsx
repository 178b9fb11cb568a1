/** While there is nothing to show yet. */
export const Waiting = ({ words }: { words: string }) => (
  <main class="waiting">
    <h1>hullchange</h1>
    <p role="status">{words}</p>
  </main>
);
