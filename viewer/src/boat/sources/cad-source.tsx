/** Lines from a body in a STEP or IGES file. */
import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { cadLines } from '../../session/hull-sources-api.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { UnderWay } from '../../shared/feedback/under-way.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { FileDrop } from '../../shared/files/file-drop.tsx';
import { NUMBER_WANTED, numberTyped } from '../../shared/words/numbers.ts';
import { useKept } from './kept.ts';
import { Preview } from './preview.tsx';
import { UnitSelect } from './unit-select.tsx';

const BOW: Readonly<Record<string, string>> = {
  '': 'found from her shape',
  false: 'at the smaller x',
  true: 'at the larger x',
};

function waterlineTyped(text: string): string {
  const height = numberTyped(text);
  if (Number.isFinite(height)) return String(height);
  throw new Error(`Type the height of the waterline in the file: ${NUMBER_WANTED}.`);
}

/** A CAD file that was chosen, and how it is to be read. */
interface CadAsked {
  readonly file?: File;
  readonly water: string;
  readonly unit: string;
  readonly body: string;
  readonly bow: string;
}

const NO_FILE: CadAsked = { water: '', unit: '', body: '1', bow: '' };
const KEPT = new Map<string, CadAsked>();

export function CadSource() {
  const { refit } = useBoat().working;
  const [asked, setAsked] = useKept(KEPT, refit, NO_FILE);
  const { file, water, unit, body, bow } = asked;
  const [preview, setPreview] = useState<LinesPreview>();
  const { busy, wrong, run, stop } = useAction();
  const read = (given: File) =>
    run(async (signal) => {
      setPreview(undefined);
      const words = { body_number: body, unit, is_bow_aft: bow };
      const filled = Object.entries(words).filter(([, word]) => word.trim() !== '');
      const waterline_z_m = waterlineTyped(water);
      const options = { waterline_z_m, ...Object.fromEntries(filled) };
      setPreview(await cadLines(refit, given, options, signal));
    });
  return (
    <div class="source">
      <FileDrop
        words="Drop a STEP or IGES file of the bare hull, z up, or choose one:"
        accept=".step,.stp,.iges,.igs"
        take={(given) => setAsked({ ...asked, file: given })}
      >
        {file && <small role="status">{file.name}</small>}
      </FileDrop>
      <p class="source-options">
        <label>
          height of the waterline in the file, m{' '}
          <input
            value={water}
            size={6}
            onInput={(e) => setAsked({ ...asked, water: e.currentTarget.value })}
          />
        </label>{' '}
        <UnitSelect
          unit={unit}
          set={(next) => setAsked({ ...asked, unit: next })}
          of={['', 'mm', 'cm', 'm', 'in', 'ft']}
        />{' '}
        <label>
          body (1 is the largest){' '}
          <input
            value={body}
            size={3}
            onInput={(e) => setAsked({ ...asked, body: e.currentTarget.value })}
          />
        </label>{' '}
        <label>
          bow{' '}
          <select value={bow} onChange={(e) => setAsked({ ...asked, bow: e.currentTarget.value })}>
            {Object.entries(BOW).map(([key, words]) => (
              <option key={key} value={key}>
                {words}
              </option>
            ))}
          </select>
        </label>{' '}
        <button type="button" disabled={busy || !file} onClick={() => file && void read(file)}>
          Read the file
        </button>{' '}
        {busy && <UnderWay words="Reading…" stop={stop} />}
      </p>
      <RefusalMessage words={wrong} />
      {preview && <Preview preview={preview} note={file?.name ?? ''} />}
    </div>
  );
}
