/** The whole boat: freeboards at the marks, what the owner wants, what was found. */

import type { TargetResult } from '../../contract.ts';
import { useBoat, useEditing } from '../../session/context.tsx';
import { marginWords, stateSign, stateWords } from '../answer/criteria.ts';
import { bothBoats } from '../answer/figures.ts';
import { findingsElsewhere } from '../answer/findings.ts';
import { comparedIn } from '../answer/floats.ts';
import { upturned } from '../boat/side-view.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { Findings } from '../feedback/finding-list.tsx';
import { freeboardExplained, freeboardPath } from '../profile/freeboard.ts';
import { amount, decidingStep, quantity, signedQuantity, trimmed } from '../words/numbers.ts';
import { plainWords, title } from '../words/plain-words.ts';
import { isMetric, unitAfter } from '../words/units.ts';

export function Overview() {
  const { working } = useBoat();
  const { readOnly } = useEditing();
  const { findings, targets } = working.assessment;
  return (
    <>
      <header class="panel-head">
        <h2>All together</h2>
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
            <th scope="col">change</th>
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
const MISSED = new Set(['missed', 'not met', 'not met within doubt']);

function Targets({ targets }: { targets: readonly TargetResult[] }) {
  return (
    <>
      <h3>Wanted</h3>
      <table class="targets">
        <tbody>
          {targets.map((target) => (
            <tr key={target.id} class={MISSED.has(stateWords(target)) ? 'missed' : ''}>
              <th scope="row">
                {plainWords(target.id)}
                <small>{wantedWords(target)}</small>
              </th>
              <td>
                {target.value !== null && (
                  <ExplainButton
                    explained={{
                      title: `Wanted: ${plainWords(target.id)}`,
                      path: `targets.${target.id}.value`,
                    }}
                  >
                    {quantity(target.value, target.unit, stepShown(target, target.value))}
                  </ExplainButton>
                )}
                {!!target.plus_minus && (
                  <small> ± {quantity(target.plus_minus, target.unit, stepOf(target.unit))}</small>
                )}
                <b>
                  <span aria-hidden="true">{stateSign(target)}</span> {stateWords(target)}
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

const limitsOf = ({ at_least: least, at_most: most }: TargetResult) =>
  [least, most].filter((limit) => limit !== null);
const stepOf = (unit: string) => ({ mm: 1, kg: 1, deg: 0.1, '°': 0.1 })[unit] ?? 0.01;
const stepShown = (target: TargetResult, value: number) =>
  decidingStep(value, limitsOf(target), stepOf(target.unit), target.unit);

function wantedWords({
  result,
  condition,
  at_least: least,
  at_most: most,
  unit,
}: TargetResult): string {
  const figure = plainWords(result.replace(/_(mm|m|deg|kg)$/, '').replace('.', ' '));
  return ` ${figure} ${boundsWords(least, most, unit)}, ${plainWords(condition)}`;
}

function boundsWords(least: number | null, most: number | null, unit: string): string {
  if (least === null) return `at most ${short(most ?? 0, unit)}`;
  if (most === null) return `at least ${short(least, unit)}`;
  return `${trimmed(amount(least, unit, finestOf(unit)))} to ${short(most, unit)}`;
}

/** What a limit is shown to, which is typed in decimals. */
const finestOf = (unit: string) => (isMetric() ? 0.01 : Math.max(stepOf(unit) / 10, 0.01));
const short = (value: number, unit: string): string =>
  isMetric()
    ? trimmed(amount(value, unit, finestOf(unit))) + unitAfter(unit)
    : quantity(value, unit, finestOf(unit));
