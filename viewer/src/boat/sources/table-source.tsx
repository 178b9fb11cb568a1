/** Lines from a table: pasted, typed or a file; any order of columns, any unit. */
import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { tableLines } from '../../session/hull-sources-api.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { FileDrop } from '../../shared/files/file-drop.tsx';
import { Preview } from './preview.tsx';
import { UnitSelect } from './unit-select.tsx';

const COLUMNS = ['line', 'kind', 'x', 'y', 'z', 'knuckle'] as const;

export function TableSource() {
  const { refit } = useBoat().working;
  const [text, setText] = useState('');
  const [from, setFrom] = useState('');
  const [unit, setUnit] = useState('');
  const [columns, setColumns] = useState('');
  const [decimal, setDecimal] = useState('');
  const [preview, setPreview] = useState<LinesPreview>();
  const { busy, wrong, run } = useAction();
  const read = (csv: string) =>
    run(async () => {
      setPreview(undefined);
      const named = columns.split(/[\s,;]+/).map((one) => COLUMNS.find((c) => c === one) ?? '');
      setPreview(
        await tableLines(refit, {
          csv,
          unit,
          columns: columns.trim() ? named : [],
          decimal: decimal === '.' || decimal === ',' ? decimal : null,
        }),
      );
    });
  const take = (file: File) => {
    setFrom(file.name);
    void file.text().then((content) => {
      setText(content);
      void read(content);
    });
  };
  return (
    <div class="source">
      <FileDrop
        words="A table of points, dropped here or chosen:"
        accept=".csv,.txt,.tsv"
        take={take}
      >
        <small>
          One point a row: line, x aft, y out from the centreline, z up; a heading names the columns
          in any order. Or a table of offsets: a row for each station.
        </small>
      </FileDrop>
      <label>
        <span>or pasted from a spreadsheet, or typed</span>
        <textarea rows={6} value={text} onInput={(e) => setText(e.currentTarget.value)} />
      </label>
      <p class="source-options">
        <UnitSelect unit={unit} set={setUnit} />{' '}
        <label>
          decimals with{' '}
          <select value={decimal} onChange={(e) => setDecimal(e.currentTarget.value)}>
            <option value="">either</option>
            <option value=".">a point</option>
            <option value=",">a comma</option>
          </select>
        </label>{' '}
        <label>
          columns, where there is no heading{' '}
          <input
            value={columns}
            placeholder="line x y z"
            onInput={(e) => setColumns(e.currentTarget.value)}
          />
        </label>{' '}
        <button type="button" disabled={busy || text.trim() === ''} onClick={() => void read(text)}>
          Read the table
        </button>
      </p>
      <RefusalMessage words={wrong} />
      {preview && <Preview preview={preview} note={from} />}
    </div>
  );
}
