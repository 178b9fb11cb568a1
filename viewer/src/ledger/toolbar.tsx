/** What of the ledger is shown, and how it is grouped. */
import { useBoat } from '../session/context.tsx';
import { choiceOf } from '../shared/words/choice.ts';
import { title } from '../shared/words/plain-words.ts';
import { GROUPINGS, isFiltered, KINDS, type LedgerView, WHOLE_LEDGER } from './view-of.ts';

interface Props {
  readonly view: LedgerView;
  readonly look: (to: Partial<LedgerView>) => void;
}

export function Toolbar({ view, look }: Props) {
  const { changes } = useBoat().working.assessment;
  const { text, change, kind } = WHOLE_LEDGER;
  return (
    <search class="ledger-tools" aria-label="What is shown of the ledger">
      <label>
        <span>find</span>
        <input
          type="search"
          value={view.text}
          onInput={(e) => look({ text: e.currentTarget.value })}
        />
      </label>
      <label>
        <span>change</span>
        <select value={view.change} onChange={(e) => look({ change: e.currentTarget.value })}>
          <option value="">all</option>
          {changes.map(({ id }) => (
            <option key={id} value={id}>
              {title(id)}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>kind</span>
        <select
          value={view.kind}
          onChange={(e) => look({ kind: choiceOf(KINDS, e.currentTarget.value) ?? '' })}
        >
          <option value="">all</option>
          {KINDS.map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
      </label>
      <fieldset class="segments">
        <legend>group by</legend>
        {GROUPINGS.map((one) => (
          <button
            key={one}
            type="button"
            aria-pressed={view.grouping === one}
            onClick={() => look({ grouping: one })}
          >
            {one}
          </button>
        ))}
      </fieldset>
      {(isFiltered(view) || view.sort) && (
        <button
          type="button"
          class="quiet"
          onClick={() => look({ text, change, kind, sort: undefined })}
        >
          Show all, as entered
        </button>
      )}
    </search>
  );
}
