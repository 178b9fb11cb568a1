/** The measured lines of the hull: points typed, pasted or read from a CSV file. */
import { useCallback, useState } from 'preact/hooks';
import { useBoat, useEditing } from '../session/context.tsx';
import { findingsAt } from '../shared/answer/findings.ts';
import { at, mapping } from '../shared/boat/document.ts';
import { linesOf } from '../shared/boat/hull-lines.ts';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { FieldAt, GroupForm, useDocumentField } from '../shared/fields/form.tsx';
import type { Field } from '../shared/fields/forms.ts';
import { NameField } from '../shared/fields/name-field.tsx';
import { type MoreColumn, MoreColumns } from '../shared/fields/table.tsx';
import { UnsentForm } from '../shared/fields/unsent.tsx';
import { ExportButton } from '../shared/files/export-button.tsx';
import { BodyPlan } from '../shared/input/body-plan.tsx';
import { freeKey, plainWords } from '../shared/words/plain-words.ts';
import { LineCheck, offCell } from './line-check.tsx';
import { SideDrawing } from './side-drawing.tsx';
import { CadSource } from './sources/cad-source.tsx';
import { DimensionsSource } from './sources/dimensions-source.tsx';
import { DrawingSource } from './sources/drawing-source.tsx';
import { ScanSource } from './sources/scan-source.tsx';
import { TableSource } from './sources/table-source.tsx';
import { TapeSource } from './sources/tape-source.tsx';

const PATH = 'hull.lines';

export function LinesSection() {
  const { working } = useBoat();
  const length = useDocumentField('hull.length_waterline_m');
  const lines = useDocumentField(PATH);
  const from = useDocumentField('hull.from');
  const taped = useDocumentField('hull.taped');
  const again = useDocumentField('hull.read_again');
  return (
    <>
      <Findings findings={findingsAt(working.assessment.findings, 'hull')} />
      <BodyPlan />
      {length && <FieldAt field={length} path="hull.length_waterline_m" />}
      <WhenEditable>
        <Sources />
      </WhenEditable>
      <ExportButton name="lines.csv">Save CSV</ExportButton>
      {lines?.kind === 'named' && <Lines line={lines.item} />}
      {from && <FieldAt field={from} path="hull.from" />}
      {taped && <FieldAt field={taped} path="hull.taped" />}
      {again && <FieldAt field={again} path="hull.read_again" />}
    </>
  );
}

interface LineSource {
  readonly words: string;
  readonly form: () => preact.JSX.Element;
}

const SOURCES: readonly LineSource[] = [
  { words: 'a table or CSV file', form: TableSource },
  { words: 'tape from marks', form: TapeSource },
  { words: 'a drawing or photo', form: DrawingSource },
  { words: 'a scan', form: ScanSource },
  { words: 'a CAD file', form: CadSource },
  { words: 'main dimensions', form: DimensionsSource },
];

/** Where her lines come from, other than typed point by point. */
function Sources() {
  const [open, setOpen] = useState<LineSource>();
  const Source = open?.form;
  return (
    <>
      <fieldset class="segments">
        <legend>lines from</legend>
        {SOURCES.map((source) => (
          <button
            key={source.words}
            type="button"
            aria-pressed={source === open}
            onClick={() => setOpen(source === open ? undefined : source)}
          >
            {source.words}
          </button>
        ))}
      </fieldset>
      {Source && <Source />}
    </>
  );
}

function Lines({ line }: { line: Field }) {
  const { document, working } = useBoat();
  const { session } = useEditing();
  const names = Object.keys(mapping(at(document, PATH)));
  const more = useCallback(
    (path: string): MoreColumn | undefined => {
      const [, name] = /^hull\.lines\.([^.]+)\.points_m$/.exec(path) ?? [];
      const { lines } = working.assessment;
      return name ? { head: 'off', cell: (row) => offCell(lines, name, row) } : undefined;
    },
    [working],
  );
  const [asked, choose] = useState<string>();
  const [adding, setAdding] = useState(false);
  const chosen = names.includes(asked ?? '') ? asked : names.at(-1);
  const remove = (name: string) => session.remove(`${PATH}.${name}`, plainWords(name));
  return (
    <>
      <div class="lines-choice">
        <fieldset class="segments">
          <legend class="unseen">Line</legend>
          {names.map((name) => (
            <button
              key={name}
              type="button"
              aria-pressed={name === chosen}
              onClick={() => choose(name)}
            >
              {plainWords(name)}
            </button>
          ))}
        </fieldset>
        <WhenEditable>
          <button type="button" class="quiet" onClick={() => setAdding(true)}>
            add a line
          </button>
          {chosen && (
            <button
              type="button"
              class="quiet"
              aria-label={`Delete line ${plainWords(chosen)}`}
              onClick={() => remove(chosen)}
            >
              delete {plainWords(chosen)}
            </button>
          )}
        </WhenEditable>
      </div>
      {adding && (
        <AddLine
          line={line}
          names={names}
          done={(name) => {
            setAdding(false);
            choose(name ?? chosen);
          }}
        />
      )}
      {chosen && <LineDrawings name={chosen} />}
      <MoreColumns.Provider value={more}>
        {chosen && line.kind === 'group' && (
          <GroupForm key={chosen} path={`${PATH}.${chosen}`} field={line} />
        )}
      </MoreColumns.Provider>
      <LineCheck choose={choose} />
    </>
  );
}

const FEWEST_POINTS = 2;

/** A line from the side and, where it leaves the centreline, from above: its points are dragged. */
function LineDrawings({ name }: { name: string }) {
  const { document } = useBoat();
  const line = linesOf(document).find(({ id }) => id === name);
  if (!line || line.points.length < FEWEST_POINTS) return null;
  const drawing = {
    label: plainWords(name),
    path: `${PATH}.${name}.points_m`,
    others: [],
    fewest: FEWEST_POINTS,
    hangs: false,
  };
  const isOut = line.points.some(([, y]) => y !== 0);
  return (
    <>
      <SideDrawing {...drawing} key={`${name} side`} columns={[0, 2]} />
      {isOut && <SideDrawing {...drawing} key={`${name} above`} columns={[0, 1]} />}
    </>
  );
}

interface AddLineProps {
  readonly line: Field;
  readonly names: readonly string[];
  readonly done: (name: string | undefined) => void;
}

/** A line more: the document lists them from the centreline to the sheer. */
function AddLine({ line, names, done }: AddLineProps) {
  const { document } = useBoat();
  const { session } = useEditing();
  const [name, setName] = useState('');
  const [below, setBelow] = useState(names.at(-1) ?? '');
  const send = async (value: unknown) => {
    if (!name) return ['Give the line a name with letters or digits.'];
    if (names.includes(name)) return ['A line with this name already exists: choose another.'];
    const lines = Object.entries(mapping(at(document, PATH)));
    const i = lines.findIndex(([key]) => key === below);
    const next = Object.fromEntries(lines.toSpliced(i < 0 ? lines.length : i, 0, [name, value]));
    return session.add(PATH, next, `new line ${plainWords(name)}`);
  };
  return (
    <UnsentForm
      field={line}
      path={`${PATH}.${name || 'new'}`}
      label="New line"
      button="Add the line"
      send={send}
      done={() => done(name || undefined)}
    >
      <NameField
        keyFor={(words) => freeKey(words, 'line', (key) => names.includes(key))}
        named={setName}
      />
      <label class="choice">
        <span>
          next line above it <small>lines go from the centreline to the sheer</small>
        </span>
        <select value={below} onChange={(e) => setBelow(e.currentTarget.value)}>
          {names.slice(1).map((one) => (
            <option key={one} value={one}>
              {plainWords(one)}
            </option>
          ))}
          <option value="">nothing above it: the top line</option>
        </select>
      </label>
    </UnsentForm>
  );
}
