/** Lines by tape: distances to each point from three marks or more. */
import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { tapeLines } from '../../session/hull-sources-api.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { UnderWay } from '../../shared/feedback/under-way.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { useTakeBack } from '../../shared/feedback/use-take-back.tsx';
import { NUMBER_WANTED, numberTyped } from '../../shared/words/numbers.ts';
import { useKept } from './kept.ts';
import { Preview } from './preview.tsx';
import { gridText, TextGrid } from './text-grid.tsx';
import { UnitSelect } from './unit-select.tsx';

type Rows = readonly (readonly string[])[];
const MARKS = ['mark', 'x', 'y', 'z'] as const;

/** What was typed: marks, then a row for each point, its line and a distance for each mark. */
interface TapeTyped {
  readonly marks: Rows;
  readonly points: Rows;
  readonly unit: string;
  readonly sd: string;
}

const NOTHING_TAPED: TapeTyped = {
  marks: ['A', 'B', 'C', 'D'].map((mark) => [mark, '', '', '']),
  points: [['', '', '', '', '']],
  unit: 'm',
  sd: '5',
};
const KEPT = new Map<string, TapeTyped>();

function plusMinusTyped(text: string): number {
  const mm = numberTyped(text);
  if (mm > 0) return mm;
  throw new Error(`Type the accuracy of one tape reading, in millimetres: ${NUMBER_WANTED}.`);
}

export function TapeSource() {
  const { refit } = useBoat().working;
  const [typed, keep] = useKept(KEPT, refit, NOTHING_TAPED);
  const { put: setTyped, line } = useTakeBack(typed, keep);
  const { marks, points, unit, sd } = typed;
  const [preview, setPreview] = useState<LinesPreview>();
  const { busy, wrong, run, stop } = useAction();
  // a mark that only has its name is none
  const used = marks.filter((mark, i) =>
    [...mark.slice(1), ...points.map((row) => row[i + 1] ?? '')].some((cell) => cell.trim() !== ''),
  );
  const columns = ['line', ...marks.map(([name = ''], i) => name.trim() || `mark ${i + 1}`)];
  const read = () =>
    run(async (signal) => {
      setPreview(undefined);
      setPreview(
        await tapeLines(
          refit,
          {
            marks_csv: gridText(MARKS, used),
            distances_csv: gridText(columns, points),
            unit,
            plus_minus_mm: plusMinusTyped(sd),
          },
          signal,
        ),
      );
    });
  return (
    <div class="source">
      <p class="about">
        Set up at least three marks of known position beside her: x aft of the forward
        perpendicular, y to starboard, z up from the design waterline. They must not be in a line;
        four, two of them up on posts, are best. Then tape to each point of each line.
      </p>
      <TextGrid
        label="Marks"
        columns={MARKS}
        rows={marks}
        set={(next) => setTyped({ ...typed, marks: next })}
        deleted={(i) =>
          setTyped({
            ...typed,
            marks: marks.toSpliced(i, 1),
            points: points.map((row) => row.toSpliced(i + 1, 1)),
          })
        }
      />
      <TextGrid
        label="Distances"
        columns={columns}
        rows={points}
        set={(next) => setTyped({ ...typed, points: next })}
      />
      {line}
      <p class="source-options">
        <UnitSelect unit={unit} set={(next) => setTyped({ ...typed, unit: next })} />{' '}
        <label>
          one tape reading, ± mm{' '}
          <input
            value={sd}
            size={4}
            onInput={(e) => setTyped({ ...typed, sd: e.currentTarget.value })}
          />
        </label>{' '}
        <button type="button" disabled={busy} onClick={() => void read()}>
          Calculate the points
        </button>
      </p>
      {busy && <UnderWay words="Calculating the points…" stop={stop} />}
      <RefusalMessage words={wrong} />
      {preview && <Preview preview={preview} note={`by tape from ${used.length} marks`} />}
    </div>
  );
}
