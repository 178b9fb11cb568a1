/** The whole boat: freeboards at the marks, what the owner wants, what was found. */

import type { TargetResult } from '../../contract.ts';
import { useBoat, useEditing, useSnapshot } from '../../session/context.tsx';
import {
  askedWords,
  isMissed,
  plusMinusWords,
  resultWords,
  targetsNow,
  targetValueWords,
  verdictWords,
} from '../answer/answer-line.ts';
import { marginWords, stateSign } from '../answer/criteria.ts';
import { bothBoats } from '../answer/figures.ts';
import { findingsElsewhere } from '../answer/findings.ts';
import { comparedIn } from '../answer/floats.ts';
import { upturned } from '../boat/side-view.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { Findings } from '../feedback/finding-list.tsx';
import { freeboardExplained, freeboardPath } from '../profile/freeboard.ts';
import { amount, signedQuantity } from '../words/numbers.ts';
import { plainWords, title } from '../words/plain-words.ts';

export function Overview() {
  const { working } = useBoat();
  const { readOnly } = useEditing();
  const { full } = useSnapshot();
  const { findings } = working.assessment;
  const targets = targetsNow(working.assessment, full?.assessment);
  return (
    <>
      <header class="panel-head">
        <h2>Whole refit</h2>
        <p>
          Pick a change, or a part in the drawing, to see {readOnly ? '' : 'and set '}its
          dimensions.
        </p>
      </header>
      <Freeboards />
      <Findings findings={findingsElsewhere(findings, 'changes')} />
      {targets.length > 0 && <Targets targets={targets} />}
    </>
  );
}

export function Freeboards() {
  const { working, condition } = useBoat();
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  const now = after ?? before;
  if (!now) return null;
  if (upturned(now)) return <p class="about">Upside down, she has no freeboards.</p>;
  return (
    <>
      <h3>Freeboards, {title(condition).toLowerCase()}</h3>
      <table class="freeboards">
        <thead>
          <tr>
            <th scope="col">mark</th>
            <th scope="col">port</th>
            <th scope="col">starboard</th>
            <th scope="col">mean change</th>
          </tr>
        </thead>
        <tbody>
          {now.freeboards_at_marks.map((f) => (
            <tr key={f.mark}>
              <th scope="row">{plainWords(f.mark)}</th>
              {SIDES.map((side) => (
                <td key={side}>
                  <ExplainButton
                    explained={{
                      title: `Freeboard ${plainWords(f.mark)}, ${side}`,
                      path: freeboardPath(now, f.mark, side),
                    }}
                  >
                    {amount(f[`${side}_mm`], 'mm', 1)}
                  </ExplainButton>
                </td>
              ))}
              <td>
                <ExplainButton explained={freeboardExplained(now, f)}>
                  {f.change_mm === null ? '—' : signedQuantity(f.change_mm, 'mm', 1)}
                </ExplainButton>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

const SIDES = ['port', 'starboard'] as const;

function Targets({ targets }: { targets: readonly TargetResult[] }) {
  return (
    <>
      <h3>Targets</h3>
      <table class="targets">
        <tbody>
          {targets.map((target) => (
            <tr key={target.id} class={isMissed(target) ? 'missed' : ''}>
              <th scope="row">
                {plainWords(target.id)}
                <small>
                  {' '}
                  {resultWords(target.result)} {askedWords(target)}, {plainWords(target.condition)}
                </small>
              </th>
              <td>
                {target.value !== null && (
                  <ExplainButton
                    explained={{
                      title: `Target: ${plainWords(target.id)}`,
                      path: `targets.${target.id}.value`,
                    }}
                  >
                    {targetValueWords(target, target.value)}
                  </ExplainButton>
                )}
                {!!target.plus_minus && (
                  <small> ± {plusMinusWords(target.plus_minus, target.unit)}</small>
                )}
                <b>
                  <span aria-hidden="true">{stateSign(target)}</span> {verdictWords(target)}
                </b>
                {target.margin_sd !== null && <small>{marginWords(target)}</small>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}
