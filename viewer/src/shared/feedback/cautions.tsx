/** The cautions of the job: folded on the page, always in print. */

import type { Caution } from '../../contract.ts';
import { useKnown } from '../../session/context.tsx';
import { reworded } from '../words/sentences.ts';

export function Cautions() {
  const { cautions } = useKnown();
  if (cautions.length === 0) return null;
  const strength = strengthIn(cautions);
  return (
    <footer class="cautions">
      <details>
        <summary>
          Cautions: an aid to judgement, not an approval. {strength && <b>{strength}</b>}
        </summary>
        <CautionList />
      </details>
    </footer>
  );
}

const STRENGTH = 'strength';
const strengthIn = (cautions: readonly Caution[]): string | undefined =>
  cautions.find((c) => c.topic === STRENGTH)?.sentence;

/** That strength is not screened, in one line, until it is. */
export function NotScreened() {
  const strength = strengthIn(useKnown().cautions);
  return strength ? <p class="not-screened">{strength}</p> : null;
}

/** All the others: that one has a line of its own. */
export function CautionList() {
  const { cautions } = useKnown();
  const others = cautions.filter((c) => c.topic !== STRENGTH);
  return (
    <ul>
      {others.map((c) => (
        <li key={c.topic}>
          <b>{c.topic}</b> {reworded(c.sentence)} <small>{c.source}</small>
        </li>
      ))}
    </ul>
  );
}
