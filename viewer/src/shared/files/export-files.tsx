/** Files for other programs. */
import { useState } from 'preact/hooks';
import * as api from '../../session/api.ts';
import { useBoat, useKnown, useRoute } from '../../session/context.tsx';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { UnderWay } from '../feedback/under-way.tsx';
import { useAction } from '../feedback/use-action.ts';
import { download } from './download.ts';

const FILES = [
  ['record.step', 'New steel, STEP', 'each plate as a solid, named by part and plate'],
  ['record.json', 'Its plates, JSON', 'mass, thickness and centroid by the same names'],
  ['scene.glb', 'The boat, glTF', 'hull, keel and parts as drawn here'],
  ['ledger.csv', 'Ledger, CSV', 'every weight of the refit'],
  ['conditions.csv', 'Conditions, CSV', 'how she floats in each'],
  ['lines-plan.pdf', 'Lines plan, PDF', 'to scale on paper, with the tables of offsets'],
  ['lines-plan.svg', 'Lines plan, SVG', 'the drawing alone'],
  ['lines-plan.dxf', 'Lines plan, DXF', 'the drawing at full size, in millimetres'],
  ['offsets.csv', 'Offsets, CSV', 'heights and half-breadths at the stations'],
  ['tables.xlsx', 'All tables, XLSX', 'ledger, parts, conditions, openings, criteria'],
] as const;
/** What one file of a refit holds, too. */
const HELD: readonly string[] = ['lines-plan.svg', 'offsets.csv'];

export function ExportFiles() {
  const { working } = useBoat();
  const { route } = useRoute();
  const { inFile, visitor } = useKnown();
  const [asked, setAsked] = useState('');
  const { busy, wrong, run, stop } = useAction();
  const take = (name: string) => {
    setAsked(name);
    return run(async (signal) => {
      const view = { ...route, condition: undefined };
      const made = await api.exported(working.refit, name, view, signal);
      download(made.name, made.content.type, made.content);
    });
  };
  return (
    <section class="print-do take-away" aria-label="Files for other programs">
      <h2>Files for other programs</h2>
      <ul>
        {FILES.filter(([name]) => !inFile || HELD.includes(name)).map(([name, words, what]) => (
          <li key={name}>
            <button type="button" disabled={busy} onClick={() => void take(name)}>
              {words}
            </button>{' '}
            {busy && asked === name ? (
              <small>
                <UnderWay words="Preparing the file…" stop={stop} />
              </small>
            ) : (
              <small>{what}</small>
            )}
          </li>
        ))}
      </ul>
      <RefusalMessage words={wrong} />
      <p class="about">
        {inFile ? (
          'STEP, glTF, PDF, DXF and the other tables are made on the server: ask the owner for them.'
        ) : (
          <>
            {route.revision === undefined
              ? 'Of the working copy. '
              : `Of revision ${route.revision}. `}
            Each carries the document's hash and the review status.
            {visitor.role === 'owner' && ' Her history and review are in her archive, under Boats.'}
          </>
        )}
      </p>
    </section>
  );
}
