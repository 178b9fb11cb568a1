/** A file that the server makes: how far it is, and why there is none. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import * as api from '../../session/api.ts';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { UnderWay } from '../feedback/under-way.tsx';
import { useAction } from '../feedback/use-action.ts';
import { bytesWords } from '../words/numbers.ts';
import { download } from './download.ts';

interface Props {
  readonly path: string;
  readonly children: ComponentChildren;
}

export function DownloadFile({ path, children }: Props) {
  const { busy, wrong, run, stop } = useAction();
  const [far, setFar] = useState('');
  const take = (event: Event) => {
    event.preventDefault();
    if (busy) return;
    setFar('Preparing the file…');
    void run(async (signal) => {
      const made = await api.made(path, signal, (bytes) => setFar(`${bytesWords(bytes)} so far…`));
      download(made.name, made.content.type, made.content);
    });
  };
  return (
    <>
      <a href={path} download aria-disabled={busy} onClick={take}>
        {children}
      </a>
      {busy && (
        <small>
          {' '}
          <UnderWay words={far} stop={stop} />
        </small>
      )}
      <RefusalMessage words={wrong} />
    </>
  );
}
