/** Where there is no boat to show: why, and beginning one. */

import type { Problem } from '../contract.ts';
import { reworded } from '../shared/words/sentences.ts';
import { Examples, OpenFile } from './boat-list.tsx';
import { DeletedBoats } from './deleted-boats.tsx';
import { BeginBoat } from './new-boat.tsx';

export function EmptyPage({ problem }: { problem: Problem | undefined }) {
  const faults = problem?.faults ?? [];
  return (
    <main class="page first-page">
      <h1>hullchange</h1>
      {problem ? (
        <div class="faults" role="alert">
          <p>
            {problem.status === 404
              ? 'This boat cannot be shown:'
              : 'This boat cannot be shown. Correct in her document:'}
          </p>
          <ul>
            {faults.map((fault) => (
              <li key={fault.place + fault.sentence}>
                <code>{fault.place}</code> {reworded(fault.sentence)}
              </li>
            ))}
            {faults.length === 0 && <li>{problem.detail}</li>}
          </ul>
        </div>
      ) : (
        <p class="lead">
          Will she float on her lines after the refit, and stay upright? Start with your own boat,
          or look at an invented one first.
        </p>
      )}
      <BeginBoat />
      <OpenFile />
      <Examples />
      <DeletedBoats />
    </main>
  );
}
