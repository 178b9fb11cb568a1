/** Lines from a CSV file: dropped here or chosen. */
import { useState } from 'preact/hooks';
import { useEditing, useSnapshot } from '../../session/context.tsx';
import { reasonsAt } from '../../session/working-copy/snapshot.ts';
import { FileDrop } from './file-drop.tsx';

const LINES = 'hull.lines';

export function CsvDrop() {
  const { session } = useEditing();
  const snapshot = useSnapshot();
  const [read, setRead] = useState('');
  const refused = reasonsAt(snapshot, LINES);
  const take = (file: File) => {
    setRead(file.name);
    file.text().then(
      (csv) => session.sendLines(csv),
      () => session.say(`${file.name} cannot be read: choose it again.`),
    );
  };
  return (
    <FileDrop
      words="Lines from a CSV file, dropped here or chosen:"
      accept=".csv,text/csv,text/plain"
      take={take}
    >
      <small>
        A heading <code>line,kind,x_m,y_m,z_m</code>, then one measured point a row; kind is fair,
        chine or sheer. It takes the place of the lines below; undo brings them back.
      </small>
      {read && refused.length === 0 && !snapshot.busy && <p role="status">{read} is read.</p>}
      <div data-path={LINES}>
        {refused.map((s) => (
          <p key={s} class="refused" role="alert">
            {s}
          </p>
        ))}
      </div>
    </FileDrop>
  );
}
