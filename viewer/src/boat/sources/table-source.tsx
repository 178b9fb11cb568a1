/** Lines from a table: pasted, typed or a file; any order of columns, any unit. */
import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { tableLines } from '../../session/hull-sources-api.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { UnderWay } from '../../shared/feedback/under-way.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { FileDrop } from '../../shared/files/file-drop.tsx';
import { useKept } from './kept.ts';
import { Preview } from './preview.tsx';
import { UnitSelect } from './unit-select.tsx';

const COLUMNS = ['line', 'kind', 'x', 'y', 'z', 'knuckle'] as const;
const NOTHING_TYPED = { text: '', from: '', unit: '', columns: '', decimal: '' };
const KEPT = new Map<string, typeof NOTHING_TYPED>();

export function TableSource() {
  const { refit } = useBoat().working;
  const [typed, setTyped] = useKept(KEPT, refit, NOTHING_TYPED);
  const { text, from, unit, columns, decimal } = typed;
  const [preview, setPreview] = useState<LinesPreview>();
  const { busy, wrong, run, stop } = useAction();
  const read = (csv: string) =>
    run(async (signal) => {
      setPreview(undefined);
      const named = columns.split(/[\s,;]+/).map((one) => COLUMNS.find((c) => c === one) ?? '');
      setPreview(
        await tableLines(
          refit,
          {
            csv,
            unit,
            columns: columns.trim() ? named : [],
            decimal: decimal === '.' || decimal === ',' ? decimal : null,
          },
          signal,
        ),
      );
    });
  const take = (file: File) => {
    void file.text().then((content) => {
      setTyped({ ...typed, text: content, from: file.name });
      void read(content);
    });
  };
  return (
    <div class="source">
      <FileDrop
        words="Drop a table of points here, or choose one:"
        accept=".csv,.txt,.tsv"
        take={take}
      >
        <small>
          One point per row: line, x aft, y out from the centreline, z up; a heading names the
          columns in any order. Or a table of offsets: a row for each station.
        </small>
      </FileDrop>
      <label>
        <span>or paste it from a spreadsheet, or type it</span>
        <textarea
          rows={6}
          value={text}
          onInput={(e) => setTyped({ ...typed, text: e.currentTarget.value })}
        />
      </label>
      <p class="source-options">
        <UnitSelect unit={unit} set={(next) => setTyped({ ...typed, unit: next })} />{' '}
        <label>
          decimals with{' '}
          <select
            value={decimal}
            onChange={(e) => setTyped({ ...typed, decimal: e.currentTarget.value })}
          >
            <option value="">either</option>
            <option value=".">a point</option>
            <option value=",">a comma</option>
          </select>
        </label>{' '}
        <label>
          columns, if there is no heading{' '}
          <input
            value={columns}
            placeholder="line x y z"
            onInput={(e) => setTyped({ ...typed, columns: e.currentTarget.value })}
          />
        </label>{' '}
        <button type="button" disabled={busy || text.trim() === ''} onClick={() => void read(text)}>
          Read the table
        </button>
      </p>
      {busy && <UnderWay words="Reading the table…" stop={stop} />}
      <RefusalMessage words={wrong} />
      {preview && <Preview preview={preview} note={from} />}
    </div>
  );
}
