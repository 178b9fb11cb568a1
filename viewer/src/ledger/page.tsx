/** The Ledger page: every weight that comes off, goes on or moves, and the new steel. */
import { useState } from 'preact/hooks';
import type { TotalsResult } from '../contract.ts';
import { useBoat, useEditing, useRoute } from '../session/context.tsx';
import { effectOrNone } from '../shared/answer/effects.ts';
import { findingsAt } from '../shared/answer/findings.ts';
import { type LedgerSection, sectionsOf } from '../shared/boat/ledger.ts';
import { ExplainButton } from '../shared/explain/explain-button.tsx';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { Trim } from '../shared/feedback/wedge.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { AddChange, AddWeight } from '../shared/input/adding.tsx';
import { AddPart } from '../shared/input/new-part.tsx';
import { PageHead } from '../shared/profile/page-head.tsx';
import { CHANGE_STAGES } from '../shared/words/constants.ts';
import { kilograms, signedAmount, signedQuantity } from '../shared/words/numbers.ts';
import { plainWords, title } from '../shared/words/plain-words.ts';
import { isMetric, unitSign } from '../shared/words/units.ts';
import { LedgerRow } from './ledger-row.tsx';
import { Steps } from './steps.tsx';

export function LedgerPage() {
  const { working } = useBoat();
  const { route } = useRoute();
  const { assessment } = working;
  const sections = sectionsOf(assessment);
  return (
    <div class="page ledger">
      <PageHead title="Ledger">
        <p class="lead">
          {totalWords(assessment.totals)}Places are {isMetric() ? 'metres' : 'feet and inches'} aft
          of the forward perpendicular, to starboard, and above the design waterline.
        </p>
        <WhenEditable>
          {route.option !== null && (
            <p class="lead">
              What you change, add or leave out here is kept in the option{' '}
              <b>{plainWords(route.option)}</b>; the base design stays as it is.
            </p>
          )}
        </WhenEditable>
      </PageHead>
      <ScrollBox label="Ledger table">
        <table class="ledger-table">
          <thead>
            <tr>
              <th scope="col">what</th>
              <th scope="col">how</th>
              <th scope="col" class="n">
                {unitSign('kg')}
              </th>
              <th scope="col" class="n">
                ±
              </th>
              <th scope="col" class="n">
                x
              </th>
              <th scope="col" class="n">
                y
              </th>
              <th scope="col" class="n">
                z
              </th>
              <th scope="col">from</th>
              <th scope="col">
                effect on trim <small>of the row alone</small>
              </th>
              <th scope="col">
                <span class="unseen">edit</span>
              </th>
            </tr>
          </thead>
          {sections.map((section) => (
            <SectionRows key={section.change.id} section={section} />
          ))}
        </table>
      </ScrollBox>
      <WhenEditable>
        <AddChange />
      </WhenEditable>
      <Steps />
    </div>
  );
}

const totalWords = (totals: TotalsResult | null) =>
  totals
    ? `${kilograms(totals.added_kg)} go on, ${kilograms(totals.removed_kg)} come off, ` +
      `${kilograms(totals.moved_kg)} move: ${signedQuantity(totals.net_kg, 'kg', 1)} on balance. `
    : '';

function SectionRows({ section }: { section: LedgerSection }) {
  const { working, scales } = useBoat();
  const { session, readOnly } = useEditing();
  const { change, rows } = section;
  const [adding, setAdding] = useState<'weight' | 'part'>();
  const path = `changes.${change.id}`;
  const done = () => setAdding(undefined);
  const remove = () => session.remove(path, title(change.id));
  return (
    <tbody>
      <tr class="change-row">
        <th scope="rowgroup" colSpan={2}>
          {title(change.id)}
        </th>
        <td class="n">
          <ExplainButton explained={{ title: `${title(change.id)}, net`, path: `${path}.net_kg` }}>
            {signedAmount(change.net_kg, 'kg', 1)}
          </ExplainButton>
        </td>
        <td colSpan={5}>
          <label class="stage">
            <span class="unseen">stage of {title(change.id)}</span>
            <select
              value={change.stage}
              disabled={readOnly}
              onChange={(e) =>
                session.send(
                  [{ op: 'set', path: `${path}.stage`, value: e.currentTarget.value }],
                  `${title(change.id)} ${e.currentTarget.value}`,
                )
              }
            >
              {CHANGE_STAGES.map((stage) => (
                <option key={stage}>{stage}</option>
              ))}
            </select>
          </label>
        </td>
        <td>
          <ExplainButton
            explained={{
              title: `Effect of ${title(change.id).toLowerCase()} on trim`,
              path: `${path}.effect.trim_mm`,
            }}
          >
            <Trim mm={effectOrNone(change).trim_mm} top={scales.trimTop} />
          </ExplainButton>
        </td>
        <td>
          <WhenEditable>
            <button
              type="button"
              class="quiet"
              onClick={remove}
              aria-label={`Take out ${title(change.id)}`}
            >
              take out
            </button>
          </WhenEditable>
        </td>
      </tr>
      {rows.map((row) => (
        <LedgerRow key={row.item.path} row={row} />
      ))}
      <tr class="adding-row">
        <td colSpan={10}>
          <Findings
            findings={findingsAt(working.assessment.findings, path).filter((f) => f.place === path)}
          />
          <WhenEditable>
            <button
              type="button"
              class="quiet"
              aria-expanded={adding === 'weight'}
              onClick={() => setAdding(adding === 'weight' ? undefined : 'weight')}
            >
              add a weight<span class="unseen"> to {title(change.id)}</span>
            </button>
            <button
              type="button"
              class="quiet"
              aria-expanded={adding === 'part'}
              onClick={() => setAdding(adding === 'part' ? undefined : 'part')}
            >
              add new steel<span class="unseen"> to {title(change.id)}</span>
            </button>
          </WhenEditable>
          {adding === 'weight' && <AddWeight change={change.id} done={done} />}
          {adding === 'part' && <AddPart change={change.id} done={done} />}
        </td>
      </tr>
    </tbody>
  );
}
