/** The form of a part, drawn from the schema of its dimensions. */
import { useMemo } from 'preact/hooks';
import { useBoat, useEditing, useRoute, useSnapshot } from '../../session/context.tsx';
import { hashOf } from '../../session/route.ts';
import { reasonsAt } from '../../session/working-copy/snapshot.ts';
import { findingsAt } from '../answer/findings.ts';
import { at, isMapping, numberOr } from '../boat/document.ts';
import { Findings } from '../feedback/finding-list.tsx';
import { WhenEditable } from './editing.tsx';
import { NumberInput } from './field.tsx';
import {
  beginning,
  type Field,
  type GroupField,
  type ListField,
  type RowField,
  withUnit,
} from './forms.ts';

/** Kinds of field that show themselves why a value was refused. */
const SAYS_WHY: readonly Field['kind'][] = ['number', 'row', 'list'];

interface Props {
  readonly path: string;
  readonly fields: readonly Field[];
}

export function Form({ path, fields }: Props) {
  return (
    <>
      {fields.map((field) => (
        <FieldAt key={field.key} field={field} path={`${path}.${field.key}`} />
      ))}
    </>
  );
}

/** A field of the document at a path, with what was refused and found there. */
function FieldAt({ field, path }: { field: Field; path: string }) {
  const { document, original, working } = useBoat();
  const { session } = useEditing();
  const snapshot = useSnapshot();
  const draft = snapshot.drafts.get(path);
  const current = draft ? draft.value : at(document, path);
  const value = current ?? (field.optional ? undefined : field.fallback);
  const findings = findingsAt(working.assessment.findings, path);
  const refused = reasonsAt(snapshot, path);
  const before = at(original, path);
  // every input is told to every field, and concerns one
  const control = useMemo(() => {
    const set = (next: unknown, gesture: string | null = null) =>
      session.set(path, next, labelOf(field, next), gesture);
    return <Control {...{ field, value, path, set, refused }} original={before} />;
  }, [field, value, path, refused, before, session]);
  return (
    <div class="field-at" data-path={path}>
      {control}
      {(!SAYS_WHY.includes(field.kind) || value === undefined) &&
        refused.map((s) => (
          <p key={s} class="refused" role="alert">
            {s}
          </p>
        ))}
      {field.kind !== 'group' && <Findings findings={findings} />}
    </div>
  );
}

interface ControlProps<F extends Field = Field> {
  readonly field: F;
  readonly value: unknown;
  readonly original?: unknown;
  readonly path: string;
  readonly set: (value: unknown, gesture?: string | null) => void;
  readonly refused: readonly string[];
}

function Control(props: ControlProps) {
  const { field, value, set, refused } = props;
  const { session, readOnly } = useEditing();
  if (value === undefined || value === null) return <Absent {...props} />;
  switch (field.kind) {
    case 'number':
      return (
        <NumberInput
          field={field}
          value={numberOr(value, field.low)}
          original={typeof props.original === 'number' ? props.original : undefined}
          refused={refused}
          change={(next, gesture) => set(next, gesture)}
          forget={() => session.forget(props.path)}
        />
      );
    case 'row':
      return <Row {...props} field={field} />;
    case 'group':
      return <Group {...props} field={field} />;
    case 'list':
      return <List {...props} field={field} />;
    case 'switch':
      return (
        <label class="switch" title={field.about}>
          <input
            type="checkbox"
            checked={value === true}
            disabled={readOnly}
            onChange={(e) => set(e.currentTarget.checked)}
          />
          {field.label} <small>{field.about}</small>
        </label>
      );
    case 'choice':
      return (
        <label class="choice" title={field.about}>
          <span>{field.label}</span>
          <select
            value={String(value)}
            disabled={readOnly}
            onChange={(e) => set(e.currentTarget.value)}
          >
            {field.choices.map((c) => (
              <option key={c}>{c}</option>
            ))}
          </select>
        </label>
      );
    case 'text':
      return (
        <label class="choice" title={field.about}>
          <span>{field.label}</span>
          <input
            value={String(value)}
            data-kept={String(value)}
            disabled={readOnly}
            onChange={(e) => set(e.currentTarget.value)}
          />
        </label>
      );
  }
}

function Absent({ field, path, set }: ControlProps) {
  const { route } = useRoute();
  if (field.kind === 'text') return null;
  return (
    <p class="absent">
      <span title={field.about}>no {field.label}</span>
      <WhenEditable>
        {field.enteredOn === 'cutting' ? (
          <a href={hashOf({ ...route, page: 'cutting' })}>read it on Cutting</a>
        ) : (
          <button
            type="button"
            class="quiet"
            onClick={() => set(beginning(field))}
            aria-label={`Put in ${field.label}`}
          >
            put in
          </button>
        )}
      </WhenEditable>
      <small class="unseen">{path}</small>
    </p>
  );
}

function TakeOut({ field, path }: { field: Field; path: string }) {
  const { session, readOnly } = useEditing();
  if (!field.optional || readOnly) return null;
  const remove = () => session.send([{ op: 'remove', path }], `no ${field.label}`);
  return (
    <button type="button" class="quiet" onClick={remove} aria-label={`Take out ${field.label}`}>
      take out
    </button>
  );
}

function Row({ field, value, original, path, set, refused }: ControlProps<RowField>) {
  const { session } = useEditing();
  const values = Array.isArray(value) ? value : [];
  const before = Array.isArray(original) ? original : [];
  return (
    <fieldset class="group">
      <legend>
        {field.label} <TakeOut field={field} path={path} />
      </legend>
      {field.fields.map((one, i) => (
        <NumberInput
          key={one.label}
          field={one}
          value={numberOr(values[i], one.low)}
          original={typeof before[i] === 'number' ? before[i] : undefined}
          refused={i === field.fields.length - 1 ? refused : []}
          change={(next, gesture) => set(values.with(i, next), gesture)}
          forget={() => session.forget(path)}
        />
      ))}
    </fieldset>
  );
}

function Group({ field, path }: ControlProps<GroupField>) {
  return (
    <fieldset class="group">
      <legend>
        {field.label} <TakeOut field={field} path={path} />
      </legend>
      <Form path={path} fields={field.fields} />
    </fieldset>
  );
}

/** Entries of a list are set as a whole, since a path does not reach inside one. */
function List({ field, value, path, set, refused }: ControlProps<ListField>) {
  const entries = Array.isArray(value) ? value : [];
  return (
    <fieldset class="group">
      <legend>
        {field.label} <TakeOut field={field} path={path} />
      </legend>
      {entries.map((entry, i) => (
        <div key={i} class="entry">
          <span class="entry-number">{i + 1}</span>
          <Inside
            field={field.item}
            value={entry}
            path={path}
            refused={[]}
            set={(next, gesture) => set(entries.with(i, next), gesture)}
          />
          <WhenEditable>
            {entries.length > field.fewest && (
              <button
                type="button"
                class="quiet"
                aria-label={`Take out number ${i + 1}`}
                onClick={() => set(entries.toSpliced(i, 1))}
              >
                take out
              </button>
            )}
          </WhenEditable>
        </div>
      ))}
      <WhenEditable>
        <button
          type="button"
          class="quiet"
          onClick={() => set([...entries, entries.at(-1) ?? beginning(field.item)])}
        >
          add one
        </button>
      </WhenEditable>
      {refused.map((s) => (
        <p key={s} class="refused" role="alert">
          {s}
        </p>
      ))}
    </fieldset>
  );
}

/** A control inside a list: a group there passes its whole value up. */
function Inside(props: ControlProps) {
  const { field, value, set } = props;
  if (field.kind !== 'group' || !isMapping(value)) return <Control {...props} />;
  return (
    <>
      {field.fields.map((one) => (
        <Inside
          key={one.key}
          field={one}
          value={value[one.key] ?? one.fallback}
          path={props.path}
          refused={[]}
          set={(next, gesture) => set({ ...value, [one.key]: next }, gesture)}
        />
      ))}
    </>
  );
}

function labelOf(field: Field, value: unknown): string {
  if (field.kind === 'number' && typeof value === 'number')
    return `${field.label} ${withUnit(field, value)}`;
  if (field.kind === 'row' && Array.isArray(value)) {
    const shown = field.fields.map((one, i) => withUnit(one, numberOr(value[i], 0)));
    return `${field.label} ${shown.join(' × ')}`;
  }
  return field.label;
}
