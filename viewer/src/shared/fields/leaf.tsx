/** The inputs of single values, rows and tables, wherever their value goes. */

import type { ComponentChildren } from 'preact';
import { useBoat, useEditing, useKnown } from '../../session/context.tsx';
import { isMapping, mapping } from '../boat/document.ts';
import { reworded } from '../words/sentences.ts';
import { choicesFor, choiceWords, pointerAt } from './choices.ts';
import { NumberInput } from './field.tsx';
import { isSteel } from './field-values.ts';
import type { Field, ListField, NumberField, RowField } from './forms.ts';
import { Paths } from './paths.tsx';
import { Table } from './table.tsx';
import { ChoiceInput, TextInput, YesNo } from './text-input.tsx';

/** Sets a value, undefined takes it out; what belongs to one gesture is one step of undo. */
export type Setter = (value: unknown, gesture?: string | null, what?: string) => void;

export interface LeafProps<F extends Field = Field> {
  readonly field: F;
  /** Undefined where nothing is given. */
  readonly value: unknown;
  readonly path: string;
  readonly set: Setter;
  /** The value the page was opened with, where a reset goes to. */
  readonly original?: unknown;
  readonly refused?: readonly string[];
  /** Forgets what was refused. */
  readonly forget?: () => void;
}

/** The input of a value that is no group: nothing for one. */
export function Leaf(props: LeafProps) {
  const { field, value, path, set, refused = [] } = props;
  const text = typeof value === 'string' && value !== '' ? value : undefined;
  switch (field.kind) {
    case 'number':
      return (
        <NumberInput
          field={field}
          value={numberOf(value)}
          original={numberOf(props.original)}
          refused={refused}
          change={set}
          forget={props.forget ?? ignore}
          clear={field.optional ? () => set(undefined) : undefined}
        />
      );
    case 'text':
      return <TextInput field={field} value={text} path={path} set={set} />;
    case 'choice':
      return <ChoiceInput field={field} value={text} path={path} set={set} />;
    case 'switch':
      return field.optional ? <YesOrNo {...props} /> : <Switch {...props} />;
    case 'paths':
      return <Paths field={field} path={path} set={set} value={mapping(value)} />;
    case 'row':
      return <RowInputs {...props} field={field} />;
    default:
      return null;
  }
}

const numberOf = (value: unknown) => (typeof value === 'number' ? value : undefined);
const ignore = () => undefined;

function Switch({ field, value, set }: LeafProps) {
  const { readOnly } = useEditing();
  return (
    <label class="switch" title={reworded(field.about)}>
      <input
        type="checkbox"
        checked={value === true}
        disabled={readOnly}
        onChange={(e) => set(e.currentTarget.checked)}
      />
      {field.label} <small>{reworded(field.about)}</small>
    </label>
  );
}

/** Yes, no, or neither. */
function YesOrNo({ field, value, path, set }: LeafProps) {
  const yesOrNo = value === true ? 'yes' : 'no';
  const word = typeof value === 'boolean' ? yesOrNo : undefined;
  const choice = { ...field, kind: 'choice', choices: ['yes', 'no'] } as const;
  const take = (next: string | undefined) => set(next === undefined ? undefined : next === 'yes');
  return <YesNo field={choice} value={word} path={path} set={take} />;
}

function RowInputs(props: LeafProps<RowField>) {
  const { field, value, set, original, refused = [] } = props;
  const values: readonly unknown[] = Array.isArray(value) ? value : [];
  const before: readonly unknown[] = Array.isArray(original) ? original : [];
  const last = field.fields.length - 1;
  return (
    <div class={isSteel(field) ? '' : 'row'}>
      {field.fields.map((one, i) => (
        <NumberInput
          key={one.label}
          field={one}
          value={numberOf(values[i])}
          original={numberOf(before[i])}
          refused={i === last ? refused : []}
          change={(next, gesture) =>
            set(
              field.fields.map((_, j) => (i === j ? next : (values[j] ?? null))),
              gesture,
            )
          }
          forget={props.forget ?? ignore}
        />
      ))}
    </div>
  );
}

/** The columns of a list that is a table; none where it is another. */
export function columnsOf({ item }: ListField): readonly NumberField[] {
  if (item.kind === 'row') return item.fields;
  if (item.kind === 'number') return [item];
  if (item.kind !== 'group') return [];
  const columns = item.fields.filter((one) => one.kind === 'number' && !one.optional);
  return columns.length === item.fields.length
    ? columns.filter((one) => one.kind === 'number')
    : [];
}

/** A list of numbers, of rows or of groups of numbers. */
export function TableList({ field, value, path, set, refused = [] }: LeafProps<ListField>) {
  const { item } = field;
  const columns = columnsOf(field);
  const entries: readonly unknown[] = Array.isArray(value) ? value : [];
  const rowOf = (entry: unknown): readonly unknown[] => {
    if (Array.isArray(entry)) return entry;
    return isMapping(entry) ? columns.map(({ key }) => entry[key]) : [entry];
  };
  const entryOf = (row: readonly unknown[]): unknown => {
    if (item.kind === 'row') return row;
    if (item.kind === 'number') return row[0];
    return Object.fromEntries(columns.map(({ key }, i) => [key, row[i]]));
  };
  return (
    <Table
      path={path}
      label={field.label}
      columns={columns}
      rows={entries.map(rowOf)}
      fewest={field.fewest}
      set={(next, what) => set(next.map(entryOf), null, what)}
      refused={refused}
    />
  );
}

/** Some of what may be named, each with a tick. */
export function Several({ field, value, path, set }: LeafProps<ListField>) {
  const { grammar } = useKnown();
  const { document } = useBoat();
  const { readOnly } = useEditing();
  const entries = Array.isArray(value) ? value.map(String) : [];
  const pointer = pointerAt(grammar, `${path}.0`);
  const choices = pointer ? choicesFor(pointer, path, document) : [];
  const all = [...new Set([...choices, ...entries])];
  if (all.length === 0) return <p class="about">There is nothing to choose from yet.</p>;
  return (
    <>
      {all.map((choice) => (
        <label key={choice} class="switch">
          <input
            type="checkbox"
            value={choice}
            aria-label={`${field.label}: ${choiceWords(choice)}`}
            checked={entries.includes(choice)}
            disabled={readOnly}
            onChange={(e) =>
              set(
                e.currentTarget.checked
                  ? [...entries, choice]
                  : entries.filter((one) => one !== choice),
              )
            }
          />
          {choiceWords(choice)}
        </label>
      ))}
    </>
  );
}

interface FramedProps {
  readonly field: Field;
  /** What may be done with all of it. */
  readonly action?: ComponentChildren;
  readonly children: ComponentChildren;
}

/** What belongs together, under its name. */
export const Framed = ({ field, action, children }: FramedProps) => (
  <fieldset class="group">
    <legend>
      {field.label} {action}
    </legend>
    {field.about !== field.label && !isSteel(field) && <p class="about">{reworded(field.about)}</p>}
    {children}
  </fieldset>
);
