/** The files of the pack, and the cut list given back filled in. */
import { useState } from 'preact/hooks';
import type { CutFiles, ListTaken } from '../contract.ts';
import { cuttingPath, files, giveList } from '../session/cutting-api.ts';
import { keptName } from '../shared/comments/author.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { UnderWay } from '../shared/feedback/under-way.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { DownloadFile } from '../shared/files/download-file.tsx';
import { FileDrop } from '../shared/files/file-drop.tsx';
import { count } from '../shared/words/plain-words.ts';
import type { CutPack } from './use-cutting.ts';

export function PackFiles({ shop }: { shop: CutPack }) {
  const [written, setWritten] = useState<CutFiles>();
  const { busy, wrong, run, stop } = useAction();
  const { source } = shop;
  const hasSteel = shop.progressByPiece.size > 0;
  const write = () => run(async (signal) => setWritten(await files(source, signal)));
  return (
    <section class="pack-files" aria-label="Files">
      <h3>Files</h3>
      <p>
        {hasSteel && (
          <DownloadFile path={cuttingPath(source, '/lists/cut-list.csv')}>
            Cut list, CSV
          </DownloadFile>
        )}{' '}
        <DownloadFile path={cuttingPath(source, '/lists/lists.xlsx')}>All lists, XLSX</DownloadFile>
      </p>
      {hasSteel && (
        <WhenEditable>
          <GiveBack shop={shop} />
        </WhenEditable>
      )}
      <p>
        <button type="button" disabled={busy} onClick={() => void write()}>
          Write the cut files
        </button>{' '}
        {busy && <UnderWay words="Writing and checking the files…" stop={stop} />}
      </p>
      <RefusalMessage words={wrong} />
      {written && (
        <>
          <p>
            <DownloadFile path={cuttingPath(source, '/pack.zip')}>
              Save all {written.files.length} as one zip
            </DownloadFile>{' '}
            <span class="about">Each carries: {written.stamp}</span>
          </p>
          <details>
            <summary>Single files</summary>
            <ul class="single-files">
              {written.files.map((file) => (
                <li key={file.name}>
                  <DownloadFile path={cuttingPath(source, '/file', { name: file.name })}>
                    {file.name}
                  </DownloadFile>{' '}
                  <small>{Math.ceil(file.size_bytes / 1024)} kB</small>
                </li>
              ))}
            </ul>
          </details>
        </>
      )}
    </section>
  );
}

function GiveBack({ shop }: { shop: CutPack }) {
  const [outcome, setOutcome] = useState('');
  const { wrong, run } = useAction();
  const take = (file: File) => {
    setOutcome('');
    void run(async () => {
      const taken = await giveList(shop.source, file, keptName() || 'the owner');
      setOutcome(takenWords(file.name, taken));
      shop.take(taken.progress);
    });
  };
  return (
    <FileDrop
      words="Drop the filled-in cut list here, or choose it:"
      accept=".csv,.xlsx,text/csv"
      take={take}
    >
      <small>
        Put a date, initials or x under cut, checked or welded when it is done; leave the other
        cells empty.
      </small>
      {outcome && <p role="status">{outcome}</p>}
      <RefusalMessage words={wrong} />
    </FileDrop>
  );
}

function takenWords(name: string, taken: ListTaken): string {
  const parts = [`${name} read: ${count(taken.taken_count, 'new entry', 'new entries')}.`];
  if (taken.not_here.length > 0) parts.push(`Not in this pack: ${taken.not_here.join(', ')}.`);
  if (taken.other_shape.length > 0)
    parts.push(`Cut before its shape changed: ${taken.other_shape.join(', ')}.`);
  if (taken.unclear.length > 0)
    parts.push(`Skipped (not a date, initials, x or no): ${taken.unclear.join('; ')}.`);
  return parts.join(' ');
}
