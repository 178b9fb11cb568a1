/** The files of the pack, and the cut list given back filled in. */
import { useState } from 'preact/hooks';
import type { CutFiles, ListTaken } from '../../contract.ts';
import { cuttingPath, files, giveList } from '../../cutting-api.ts';
import { count } from '../../words.ts';
import { keptName } from '../author.tsx';
import { FileDrop } from '../file-drop.tsx';
import { Editing } from '../editing.tsx';
import type { Shop } from './use-cutting.ts';

export function PackFiles({ shop }: { shop: Shop }) {
  const [written, setWritten] = useState<CutFiles>();
  const [state, setState] = useState('');
  const { source } = shop;
  const hasSteel = shop.far.size > 0;
  const write = () => {
    setState('The files are being written and read again…');
    files(source).then(
      (all) => {
        setWritten(all);
        setState('');
      },
      (error: unknown) => setState(error instanceof Error ? error.message : 'No answer.'),
    );
  };
  return (
    <section class="pack-files" aria-label="Files">
      <h3>Files</h3>
      <p>
        {hasSteel && (
          <a href={cuttingPath(source, '/lists/cut-list.csv')} download>
            Cut list, CSV
          </a>
        )}{' '}
        <a href={cuttingPath(source, '/lists/lists.xlsx')} download>
          All lists, XLSX
        </a>
      </p>
      {hasSteel && (
        <Editing>
          <GiveBack shop={shop} />
        </Editing>
      )}
      <p>
        <button type="button" onClick={write}>
          Write the cut files
        </button>{' '}
        <span role="status">{state}</span>
      </p>
      {written && (
        <>
          <p>
            <a href={cuttingPath(source, '/pack.zip')} download={written.zip_name}>
              Save all {written.files.length} as one zip
            </a>{' '}
            <span class="about">Each carries: {written.stamp}</span>
          </p>
          <details>
            <summary>Single files</summary>
            <ul class="single-files">
              {written.files.map((file) => (
                <li key={file.name}>
                  <a href={cuttingPath(source, '/file', { name: file.name })} download>
                    {file.name}
                  </a>{' '}
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

function GiveBack({ shop }: { shop: Shop }) {
  const [said, setSaid] = useState('');
  const take = (file: File) => {
    setSaid('');
    const giving = giveList(shop.source, file, keptName() || 'the owner');
    shop.say(
      giving.then((taken) => {
        setSaid(takenWords(file.name, taken));
        return taken.progress;
      }),
    );
  };
  return (
    <FileDrop
      words="The cut list filled in, dropped here or chosen:"
      accept=".csv,.xlsx,text/csv"
      take={take}
    >
      <small>
        A date, initials or x in cut, checked and welded where it is done; empty cells say
        nothing.
      </small>
      {said && <p role="status">{said}</p>}
    </FileDrop>
  );
}

function takenWords(name: string, taken: ListTaken): string {
  const parts = [`${name} is read: ${count(taken.taken_count, 'new word')}.`];
  if (taken.not_here.length > 0) parts.push(`Not in this pack: ${taken.not_here.join(', ')}.`);
  if (taken.other_shape.length > 0)
    parts.push(`Cut to another shape than now: ${taken.other_shape.join(', ')}.`);
  if (taken.unclear.length > 0)
    parts.push(
      `Not counted, being no date, initials, x or no: ${taken.unclear.join('; ')}.`,
    );
  return parts.join(' ');
}
