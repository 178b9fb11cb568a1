/** Changes as cards: what comes off and goes on, what it does to trim, what is easily missed. */
import { useApp } from '../app-context.ts';
import type { ChangeResult } from '../contract.ts';
import { findingsAt } from '../findings.ts';
import { totalsOf } from '../ledger.ts';
import { number } from '../numbers.ts';
import { count, title } from '../words.ts';
import { Trim, TrimBar } from './wedge.tsx';

/** Where cards and form stand below each other, the form is shown at once. */
const NARROW = '(max-width: 760px)';

export function Cards() {
  const { working, scales } = useApp();
  const { changes, waterfall } = working.assessment;
  const totals = totalsOf(changes);
  return (
    <section class="cards" aria-label="Changes">
      {changes.map((change) => (
        <Card key={change.id} change={change} />
      ))}
      {changes.length > 0 && (
        <p class="cards-total">
          <span>all together</span>
          <span class="kg">{inAndOut(totals.added, totals.removed)}</span>
          <Trim mm={waterfall.total.trim_mm} top={scales.trimTop} />
        </p>
      )}
    </section>
  );
}

function Card({ change }: { change: ChangeResult }) {
  const { working, scales, route, go } = useApp();
  const { assessment } = working;
  const findings = findingsAt(assessment.findings, `changes.${change.id}`).filter(
    (f) => f.severity !== 'note',
  );
  const first = assessment.parts.find((part) => part.change === change.id);
  const pick = () => {
    go({ picked: { change: change.id, part: first?.id } });
    if (matchMedia(NARROW).matches) document.getElementById('panel')?.scrollIntoView();
  };
  return (
    <button type="button" class="card" aria-pressed={route.picked?.change === change.id} onClick={pick}>
      <span class="name">{title(change.id)}</span>
      <span class="kg">{inAndOut(change.added_kg, change.removed_kg, change.moved_kg)}</span>
      <TrimBar mm={change.effect.trim_mm} top={scales.trimTop} />
      {change.reminder && <span class="reminder">{change.reminder}</span>}
      {findings.length > 0 && <span class="looks">{count(findings.length, 'thing')} to look at</span>}
    </button>
  );
}

function inAndOut(added: number, removed: number, moved = 0): string {
  const parts = [];
  if (added > 0.5) parts.push(`+${number(added, 1)}`);
  if (removed > 0.5) parts.push(`−${number(removed, 1)}`);
  if (parts.length === 0) return moved > 0.5 ? `${number(moved, 1)} kg moved` : '0 kg';
  return `${parts.join(' ')} kg`;
}
