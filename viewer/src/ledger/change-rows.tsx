/** What stands above and below the rows of a change. */
import { useState } from 'preact/hooks';
import type { ChangeResult } from '../contract.ts';
import { useBoat, useEditing } from '../session/context.tsx';
import { effectOrNone } from '../shared/answer/effects.ts';
import { findingsAt } from '../shared/answer/findings.ts';
import { ExplainButton } from '../shared/explain/explain-button.tsx';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { Trim } from '../shared/feedback/wedge.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { AddWeight } from '../shared/input/adding.tsx';
import { AddPart } from '../shared/input/new-part.tsx';
import { CHANGE_STAGES } from '../shared/words/constants.ts';
import { signedAmount } from '../shared/words/numbers.ts';
import { title } from '../shared/words/plain-words.ts';

/** The head of a change: its name, what it weighs, how far it is, what it does to trim. */
export function ChangeHead({ change }: { change: ChangeResult }) {
  const { scales } = useBoat();
  const { session, readOnly } = useEditing();
  const path = `changes.${change.id}`;
  const remove = () => session.remove(path, title(change.id), 'left out');
  return (
    <tr class="change-row">
      <th scope="rowgroup" colSpan={3}>
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
          <button type="button" class="quiet" onClick={remove}>
            Leave out<span class="unseen"> {title(change.id)}</span>
          </button>
        </WhenEditable>
      </td>
    </tr>
  );
}

/** Below the rows of a change: its findings, and adding to it. */
export function AddingTo({ change }: { change: ChangeResult }) {
  const { working } = useBoat();
  const [adding, setAdding] = useState<'weight' | 'part'>();
  const path = `changes.${change.id}`;
  const done = () => setAdding(undefined);
  return (
    <tr class="adding-row">
      <td colSpan={11}>
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
            Add a weight<span class="unseen"> to {title(change.id)}</span>
          </button>
          <button
            type="button"
            class="quiet"
            aria-expanded={adding === 'part'}
            onClick={() => setAdding(adding === 'part' ? undefined : 'part')}
          >
            Add new steel<span class="unseen"> to {title(change.id)}</span>
          </button>
        </WhenEditable>
        {adding === 'weight' && <AddWeight change={change.id} done={done} />}
        {adding === 'part' && <AddPart change={change.id} done={done} />}
      </td>
    </tr>
  );
}
