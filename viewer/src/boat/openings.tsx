/** Openings: typed, or their edges pressed on the boat in three dimensions. */
import { useState } from 'preact/hooks';
import type { Spot } from '../scene/aim.ts';
import { useBoat, useEditing } from '../session/context.tsx';
import { at, isMapping, mapping } from '../shared/boat/document.ts';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { FieldAt, useDocumentField } from '../shared/fields/form.tsx';
import type { Field } from '../shared/fields/forms.ts';
import { NameField } from '../shared/fields/name-field.tsx';
import { UnsentForm } from '../shared/fields/unsent.tsx';
import { PointPicker } from '../shared/view3d/point-picker.tsx';
import { placeWords } from '../shared/words/numbers.ts';
import { freeKey, plainWords } from '../shared/words/plain-words.ts';

const PATH = 'openings';

export function OpeningsSection() {
  const field = useDocumentField(PATH);
  const [spots, setSpots] = useState<readonly Spot[]>([]);
  if (field?.kind !== 'named') return null;
  return (
    <>
      <WhenEditable>
        <p class="about">
          Pick the corners of an opening on the boat, then name it. Or add one below and type its
          points.
        </p>
        <PointPicker press={(spot) => setSpots([...spots, spot])} />
        {spots.length > 0 && (
          <Pressed opening={field.item} spots={spots} set={(next) => setSpots(next)} />
        )}
      </WhenEditable>
      <FieldAt field={field} path={PATH} />
    </>
  );
}

interface PressedProps {
  readonly opening: Field;
  readonly spots: readonly Spot[];
  readonly set: (spots: readonly Spot[]) => void;
}

/** The points that were pressed, and what may be done with them. */
function Pressed({ opening, spots, set }: PressedProps) {
  const { document } = useBoat();
  const { session } = useEditing();
  const [adding, setAdding] = useState(false);
  const edge = spots.map(({ point }) => point.map(toCentimetres));
  const names = Object.keys(mapping(at(document, PATH)));
  const use = (name: string) => {
    if (!name) return;
    session.set(`${PATH}.${name}.edge_m`, edge, `edge of ${plainWords(name)}`);
    set([]);
  };
  return (
    <div class="pressed">
      <ol>
        {spots.map((spot, i) => (
          <li key={i}>
            {placeWords(spot.point)}{' '}
            <button
              type="button"
              class="quiet"
              aria-label={`Leave out point ${i + 1}`}
              onClick={() => set(spots.toSpliced(i, 1))}
            >
              leave out
            </button>
          </li>
        ))}
      </ol>
      {adding ? (
        <NewOpening
          opening={opening}
          edge={edge}
          leadsTo={leadsTo(document, spots)}
          names={names}
          done={(isAdded) => {
            setAdding(false);
            if (isAdded) set([]);
          }}
        />
      ) : (
        <>
          <button type="button" onClick={() => setAdding(true)}>
            A new opening with these points
          </button>
          {names.length > 0 && (
            <label>
              {' '}
              or the edge of{' '}
              <select value="" onChange={(e) => use(e.currentTarget.value)}>
                <option value="">choose an opening</option>
                {names.map((name) => (
                  <option key={name} value={name}>
                    {plainWords(name)}
                  </option>
                ))}
              </select>
            </label>
          )}
        </>
      )}
    </div>
  );
}

const toCentimetres = (metres: number) => Number(metres.toFixed(2));

/** The part most of the points lie on, by its path; otherwise the hull. */
function leadsTo(document: unknown, spots: readonly Spot[]): string {
  const pieces = spots.map(({ piece }) => piece.replace(/^existing\./, ''));
  const [piece = ''] = pieces.toSorted(
    (a, b) => pieces.filter((one) => one === b).length - pieces.filter((one) => one === a).length,
  );
  const isExisting = isMapping(at(document, `existing.${piece}`));
  if (isExisting) return `existing.${piece}`;
  const change = Object.entries(mapping(at(document, 'changes'))).find(([, one]) =>
    Object.hasOwn(mapping(mapping(one).parts), piece),
  );
  return change ? `changes.${change[0]}.parts.${piece}` : 'hull';
}

interface NewProps {
  readonly opening: Field;
  readonly edge: readonly (readonly number[])[];
  readonly leadsTo: string;
  readonly names: readonly string[];
  readonly done: (isAdded: boolean) => void;
}

function NewOpening({ opening, edge, leadsTo: into, names, done }: NewProps) {
  const { session } = useEditing();
  const [name, setName] = useState('');
  const send = async (value: unknown) => {
    if (!name || names.includes(name)) return ['Give the opening a name that is not used yet.'];
    const why = await session.add(`${PATH}.${name}`, value, `new opening ${plainWords(name)}`);
    if (why.length === 0) done(true);
    return why;
  };
  return (
    <UnsentForm
      field={opening}
      path={`${PATH}.${name || 'new'}`}
      label="New opening"
      button="Add the opening"
      begin={{ edge_m: edge, leads_to: into }}
      send={send}
      done={() => done(false)}
    >
      <NameField
        keyFor={(words) => freeKey(words, 'opening', (key) => names.includes(key))}
        named={setName}
      />
    </UnsentForm>
  );
}
