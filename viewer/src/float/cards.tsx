/** Changes as cards: what comes off and goes on, what it does to trim, what is easily missed. */

import type { ChangeResult } from '../contract.ts';
import { useBoat, useReview, useRoute } from '../session/context.tsx';
import { openAbout, threadsOf } from '../session/review.ts';
import { hashOf } from '../session/route.ts';
import { effectOrNone } from '../shared/answer/effects.ts';
import { findingsAt, findingsElsewhere } from '../shared/answer/findings.ts';
import { TrimBar } from '../shared/feedback/wedge.tsx';
import { raisePanel } from '../shared/panel/panel-handle.tsx';
import { quantity, signedAmount } from '../shared/words/numbers.ts';
import { count, title } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';
import { unitAfter } from '../shared/words/units.ts';

export function Cards() {
  const { working } = useBoat();
  const { route } = useRoute();
  const { changes } = working.assessment;
  return (
    <section class="cards" aria-label="Changes">
      <WholeRefit />
      {changes.length === 0 && (
        <p class="no-changes">
          No changes yet. <a href={hashOf({ ...route, page: 'ledger' })}>Begin one in the ledger</a>
          : what comes off, what goes on, new steel.
        </p>
      )}
      {changes.map((change) => (
        <Card key={change.id} change={change} />
      ))}
    </section>
  );
}

/** The sum of the changes; picking it looks at the whole boat. */
function WholeRefit() {
  const { working, scales } = useBoat();
  const { route, go } = useRoute();
  const { totals, waterfall, findings } = working.assessment;
  const serious = findingsElsewhere(findings, 'changes').filter((f) => f.severity !== 'note');
  return (
    <button
      type="button"
      class="card whole-refit"
      aria-pressed={route.picked === undefined}
      onClick={() => go({ picked: undefined })}
    >
      <span class="name">Whole refit</span>
      {totals && (
        <span class="kg">{inAndOut(totals.added_kg, totals.removed_kg, totals.moved_kg)}</span>
      )}
      <TrimBar mm={waterfall.total.trim_mm} top={scales.trimTop} />
      {serious.length > 0 && <span class="looks">{count(serious.length, 'check')}</span>}
    </button>
  );
}

function Card({ change }: { change: ChangeResult }) {
  const { working, scales } = useBoat();
  const { route, go } = useRoute();
  const { reviewState } = useReview();
  const { assessment } = working;
  const findings = findingsAt(assessment.findings, `changes.${change.id}`).filter(
    (f) => f.severity !== 'note',
  );
  const parts = assessment.parts.filter((part) => part.change === change.id);
  const [first] = parts;
  const open = openAbout(
    threadsOf(reviewState.review),
    `changes.${change.id}`,
    parts.map((part) => part.id),
  );
  const pick = () => {
    go({ picked: { change: change.id, part: first?.id } });
    raisePanel();
  };
  return (
    <button
      type="button"
      class="card"
      aria-pressed={route.picked?.change === change.id}
      onClick={pick}
    >
      <span class="name">{title(change.id)}</span>
      <span class="kg">{inAndOut(change.added_kg, change.removed_kg, change.moved_kg)}</span>
      <TrimBar mm={effectOrNone(change).trim_mm} top={scales.trimTop} />
      {change.reminder && <span class="reminder">{reworded(change.reminder)}</span>}
      {findings.length > 0 && <span class="looks">{count(findings.length, 'check')}</span>}
      {open.length > 0 && <span class="looks">{count(open.length, 'open comment')}</span>}
    </button>
  );
}

function inAndOut(added: number, removed: number, moved = 0): string {
  const parts: string[] = [];
  if (added > 0.5) parts.push(signedAmount(added, 'kg', 1));
  if (removed > 0.5) parts.push(signedAmount(-removed, 'kg', 1));
  if (parts.length === 0)
    return moved > 0.5 ? `${quantity(moved, 'kg', 1)} moved` : quantity(0, 'kg', 1);
  return parts.join(' ') + unitAfter('kg');
}
