/** Lines by tape: distances to each point from three marks or more. */
import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { tapeLines } from '../../session/hull-sources-api.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { Preview } from './preview.tsx';
import { gridText, TextGrid } from './text-grid.tsx';
import { UnitSelect } from './unit-select.tsx';

type Rows = readonly (readonly string[])[];
const MARKS = ['mark', 'x', 'y', 'z'] as const;

export function TapeSource() {
  const { refit } = useBoat().working;
  const [marks, setMarks] = useState<Rows>([
    ['A', '', '', ''],
    ['B', '', '', ''],
    ['C', '', '', ''],
    ['D', '', '', ''],
  ]);
  const [points, setPoints] = useState<Rows>([['', '', '', '', '']]);
  const [unit, setUnit] = useState('m');
  const [sd, setSd] = useState('5');
  const [preview, setPreview] = useState<LinesPreview>();
  const { busy, wrong, run } = useAction();
  const names = marks.map(([name = '']) => name).filter((name) => name.trim() !== '');
  const columns = ['line', ...names];
  const read = () =>
    run(async () => {
      setPreview(undefined);
      setPreview(
        await tapeLines(refit, {
          marks_csv: gridText(MARKS, marks),
          distances_csv: gridText(columns, points),
          unit,
          plus_minus_mm: Number(sd) || 5,
        }),
      );
    });
  return (
    <div class="source">
      <p class="about">
        Set up three marks or more beside her whose places you know: x aft of the forward
        perpendicular, y to starboard, z up from the design waterline. They must not stand in a
        line; four, two of them up a post, are best. Then tape to each point of each line.
      </p>
      <TextGrid label="Marks" columns={MARKS} rows={marks} set={setMarks} />
      <TextGrid label="Distances" columns={columns} rows={points} set={setPoints} />
      <p class="source-options">
        <UnitSelect unit={unit} set={setUnit} />{' '}
        <label>
          one tape reading, ± mm{' '}
          <input value={sd} size={4} onInput={(e) => setSd(e.currentTarget.value)} />
        </label>{' '}
        <button type="button" disabled={busy} onClick={() => void read()}>
          Work out the points
        </button>
      </p>
      <RefusalMessage words={wrong} />
      {preview && <Preview preview={preview} note={`by tape from ${names.length} marks`} />}
    </div>
  );
}
