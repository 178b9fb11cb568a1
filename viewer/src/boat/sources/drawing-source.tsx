/** Lines traced over a picture or a page of a PDF: profile, plan and body plan. */

import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { drawingLines, pdfPage } from '../../session/hull-sources-api.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { UnderWay } from '../../shared/feedback/under-way.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { FileDrop } from '../../shared/files/file-drop.tsx';
import { choiceOf } from '../../shared/words/choice.ts';
import { unitSign } from '../../shared/words/units.ts';
import { useKept } from './kept.ts';
import { PictureTrace, type TracePicture } from './picture-trace.tsx';
import { Preview } from './preview.tsx';
import {
  newTrace,
  pickedOf,
  VIEWS,
  type ViewKind,
  type ViewTrace,
  viewOf,
  withPicked,
} from './traced-view.ts';

const KINDS: readonly ViewKind[] = ['profile', 'plan', 'body'];

const NOTHING_TRACED: readonly ViewTrace[] = [];
const KEPT = new Map<string, readonly ViewTrace[]>();

export function DrawingSource() {
  const { refit } = useBoat().working;
  const [kind, setKind] = useState<ViewKind>('profile');
  const [traces, setTraces] = useKept(KEPT, refit, NOTHING_TRACED);
  const [preview, setPreview] = useState<LinesPreview>();
  const { busy, wrong, run, stop } = useAction();
  const trace = traces.find((one) => one.kind === kind);
  const put = (next: ViewTrace) =>
    setTraces([...traces.filter((one) => one.kind !== next.kind), next]);
  const load = (file: File, page: number) =>
    run(async () => {
      const isPdf = /\.pdf$/i.test(file.name);
      const content = isPdf ? (await pdfPage(refit, file, page)).content : file;
      put(newTrace(kind, await pictureIn(content), isPdf));
    });
  const read = () =>
    run(async (signal) => {
      setPreview(undefined);
      const views = traces.map(viewOf);
      const trouble = views.find((one) => one.trouble)?.trouble;
      if (trouble) throw new Error(trouble);
      setPreview(
        await drawingLines(refit, { views: views.flatMap(({ view }) => view ?? []) }, signal),
      );
    });
  return (
    <div class="source">
      <p class="about">
        Trace sheer, chines and keel over a drawing or a photo: the profile gives heights, the plan
        half-breadths, a body plan both. On each picture press six points of known position, spread
        over the page; on a flat scan or a PDF three are enough.
      </p>
      <label>
        view{' '}
        <select
          value={kind}
          onChange={(e) => setKind(choiceOf(KINDS, e.currentTarget.value) ?? kind)}
        >
          {KINDS.map((one) => (
            <option key={one} value={one}>
              {VIEWS[one].words}
              {traces.some((t) => t.kind === one) ? ' (begun)' : ''}
            </option>
          ))}
        </select>
      </label>
      <PictureFile load={load} />
      {trace && <Trace key={kind} trace={trace} put={put} />}
      <button type="button" disabled={busy || traces.length === 0} onClick={() => void read()}>
        Read the drawing
      </button>
      {busy && <UnderWay words="Reading the traces…" stop={stop} />}
      <RefusalMessage words={wrong} />
      {preview && <Preview preview={preview} note="traced over a drawing" />}
    </div>
  );
}

function PictureFile({ load }: { load: (file: File, page: number) => void }) {
  const [page, setPage] = useState('1');
  return (
    <FileDrop
      words="Drop a picture or PDF of this view here, or choose one:"
      accept=".png,.jpg,.jpeg,.webp,.pdf,image/*,application/pdf"
      take={(file) => load(file, Number(page) || 1)}
    >
      <label>
        page of a PDF{' '}
        <input value={page} size={3} onInput={(e) => setPage(e.currentTarget.value)} />
      </label>
    </FileDrop>
  );
}

/** A picture with its size [px]. */
async function pictureIn(content: Blob): Promise<TracePicture> {
  const url = URL.createObjectURL(content);
  const image = new Image();
  image.src = url;
  await image.decode().catch(() => {
    throw new Error('The browser cannot show this picture: choose a PNG, JPEG or PDF.');
  });
  return { url, width: image.naturalWidth, height: image.naturalHeight };
}

interface TraceProps {
  readonly trace: ViewTrace;
  readonly put: (trace: ViewTrace) => void;
}

/** Marks and lines of one view; what is chosen takes the presses. */
function Trace({ trace, put }: TraceProps) {
  const [active, setActive] = useState(0);
  const [name, setName] = useState('');
  const [station, setStation] = useState('');
  const isBody = trace.kind === 'body';
  const add = () => {
    put({ ...trace, lines: [...trace.lines, { line: name, station, points: [] }] });
    setActive(trace.lines.length + 1);
  };
  return (
    <>
      <label class="switch">
        <input
          type="checkbox"
          checked={trace.isFlat}
          onChange={(e) => put({ ...trace, isFlat: e.currentTarget.checked })}
        />
        a flat scan, not a photo
      </label>
      <fieldset class="segments">
        <legend>add points to</legend>
        {['marks', ...trace.lines.map((one) => `${one.line} ${one.station}`)].map((words, i) => (
          <button
            key={words}
            type="button"
            aria-pressed={active === i}
            onClick={() => setActive(i)}
          >
            {words}
          </button>
        ))}
      </fieldset>
      <p class="source-options">
        <label>
          another line, named{' '}
          <input value={name} list="line-names" onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <datalist id="line-names">
          {['centreline', 'chine', 'lower chine', 'upper chine', 'sheer'].map((one) => (
            <option key={one} value={one} />
          ))}
        </datalist>
        {isBody && (
          <label>
            {' '}
            at station x, {unitSign('m')} aft{' '}
            <input value={station} size={5} onInput={(e) => setStation(e.currentTarget.value)} />
          </label>
        )}{' '}
        <button type="button" disabled={name.trim() === ''} onClick={add}>
          Trace it
        </button>
      </p>
      <PictureTrace
        picture={trace.picture}
        picked={pickedOf(trace)}
        active={active}
        set={(i, points) => put(withPicked(trace, i, points))}
      />
      <MarkPlaces trace={trace} put={put} />
    </>
  );
}

/** Where each mark is. */
function MarkPlaces({ trace, put }: TraceProps) {
  const { axes } = VIEWS[trace.kind];
  if (trace.marks.length === 0) return null;
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">mark</th>
          {axes.map((axis) => (
            <th key={axis} scope="col">
              {axis}, {unitSign('m')}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {trace.marks.map((_, i) => {
          const place = trace.places[i] ?? (['', ''] as const);
          return (
            <tr key={i}>
              <th scope="row">{i + 1}</th>
              {axes.map((axis, j) => (
                <td key={axis}>
                  <input
                    aria-label={`mark ${i + 1}, ${axis}`}
                    value={place[j] ?? ''}
                    size={7}
                    onInput={(e) => {
                      const text = e.currentTarget.value;
                      const next = [j === 0 ? text : place[0], j === 1 ? text : place[1]] as const;
                      put({ ...trace, places: trace.places.with(i, next) });
                    }}
                  />
                </td>
              ))}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
