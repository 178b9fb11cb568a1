/** Lines from a CSV file: dropped here or chosen. */
import { useRef, useState } from 'preact/hooks';
import { useApp, useSnapshot } from '../app-context.ts';

export function CsvDrop() {
  const { session } = useApp();
  const snapshot = useSnapshot();
  const [over, setOver] = useState(false);
  const [read, setRead] = useState('');
  const input = useRef<HTMLInputElement>(null);
  const refused = snapshot.refused.get('hull.lines') ?? [];
  const take = (file: File | undefined) => {
    if (!file) return;
    setRead(file.name);
    void file.text().then((csv) => session.sendLines(csv));
  };
  const drop = (e: DragEvent) => {
    e.preventDefault();
    setOver(false);
    take(e.dataTransfer?.files[0]);
  };
  return (
    <div
      class={`csv-drop ${over ? 'over' : ''}`}
      onDragOver={(e) => {
        e.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <label>
        <span>Lines from a CSV file, dropped here or chosen:</span>
        <input
          ref={input}
          type="file"
          accept=".csv,text/csv,text/plain"
          onChange={(e) => {
            take(e.currentTarget.files?.[0]);
            e.currentTarget.value = '';
          }}
        />
      </label>
      <small>
        A heading <code>line,kind,x_m,y_m,z_m</code>, then one measured point a row; kind is
        fair, chine or sheer. It takes the place of the lines below; undo brings them back.
      </small>
      {read && refused.length === 0 && !snapshot.busy && <p role="status">{read} is read.</p>}
      {refused.map((s) => (
        <p key={s} class="refused" role="alert">
          {s}
        </p>
      ))}
    </div>
  );
}
