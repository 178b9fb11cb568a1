/** The cautions of the job: folded on the page, always in print. */
import { useApp } from '../app-context.ts';

export function Cautions() {
  const { cautions } = useApp();
  if (cautions.length === 0) return null;
  return (
    <footer class="cautions">
      <details>
        <summary>Cautions: an aid to judgement, not an approval</summary>
        <CautionList />
      </details>
    </footer>
  );
}

export function CautionList() {
  const { cautions } = useApp();
  return (
    <ul>
      {cautions.map((c) => (
        <li key={c.topic}>
          <b>{c.topic}</b> {c.sentence} <small>{c.source}</small>
        </li>
      ))}
    </ul>
  );
}
