/** Findings as sentences, worst first. */

import type { FindingResult } from '../../contract.ts';
import { SEVERITY_WORDS } from '../answer/findings.ts';
import { reworded } from '../words/sentences.ts';

export function Findings({ findings }: { findings: readonly FindingResult[] }) {
  if (findings.length === 0) return null;
  return (
    <ul class="findings">
      {findings.map((finding) => (
        <li key={finding.place + finding.sentence} class={finding.severity}>
          <b>{SEVERITY_WORDS[finding.severity]}</b> {reworded(finding.sentence)}
          {finding.source && <small> {finding.source}</small>}
        </li>
      ))}
    </ul>
  );
}
