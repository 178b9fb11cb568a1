/** All of a boat in one file, out and in. */
import { useState } from 'preact/hooks';
import * as api from '../session/api.ts';
import { useBoat } from '../session/context.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { UnderWay } from '../shared/feedback/under-way.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { DownloadFile } from '../shared/files/download-file.tsx';

export function Archives() {
  const { working } = useBoat();
  const [file, setFile] = useState<File>();
  const [name, setName] = useState('');
  const { busy, wrong, run, stop } = useAction();
  const restore = (event: Event) => {
    event.preventDefault();
    if (file === undefined) return;
    void run(async (signal) => {
      const card = await api.restore(file, name, signal);
      location.hash = `#/float?boat=${encodeURIComponent(card.id)}`;
      location.reload();
    });
  };
  return (
    <div class="archives">
      <p>
        <DownloadFile path={api.archiveOf(working.refit)}>
          Archive of {working.assessment.boat}
        </DownloadFile>{' '}
        <small>document, history, revisions, review, attachments</small>
      </p>
      <form onSubmit={restore} aria-label="Restore a boat">
        <label>
          <span>Restore a boat from her archive</span>
          <input
            type="file"
            accept=".zip,application/zip"
            required
            onChange={(e) => setFile(e.currentTarget.files?.[0])}
          />
        </label>
        <label>
          <span>new name (empty: keep the old one)</span>
          <input value={name} onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <button type="submit" disabled={busy}>
          Restore
        </button>{' '}
        {busy && <UnderWay words="Reading…" stop={stop} />}
        <RefusalMessage words={wrong} />
      </form>
    </div>
  );
}
