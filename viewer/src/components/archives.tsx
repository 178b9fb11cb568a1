/** All of a boat in one file, out and in. */
import { useState } from 'preact/hooks';
import * as api from '../api.ts';
import { useApp } from '../app-context.ts';

export function Archives() {
  const { working } = useApp();
  const [file, setFile] = useState<File>();
  const [name, setName] = useState('');
  const [refused, setRefused] = useState('');
  const [busy, setBusy] = useState(false);
  const restore = (event: Event) => {
    event.preventDefault();
    if (file === undefined) return;
    setBusy(true);
    setRefused('');
    api
      .restore(file, name)
      .then((card) => {
        location.hash = `#/float?boat=${encodeURIComponent(card.id)}`;
        location.reload();
      })
      .catch((error: unknown) => {
        setRefused(error instanceof Error ? error.message : '');
        setBusy(false);
      });
  };
  return (
    <div class="archives">
      <p>
        <a href={api.archiveOf(working.refit)} download>
          Archive of {working.assessment.boat}
        </a>{' '}
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
          <span>under another name (empty: as she was called)</span>
          <input value={name} onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <button type="submit" disabled={busy}>
          {busy ? 'Reading…' : 'Restore'}
        </button>
        {refused && (
          <p class="refused" role="alert">
            {refused}
          </p>
        )}
      </form>
    </div>
  );
}
