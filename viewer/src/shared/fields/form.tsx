/** Forms drawn from the schema: of a part, or of any section of the document. */
import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { useEditing, useKnown } from '../../session/context.tsx';
import { at, numberOr } from '../boat/document.ts';
import { Findings } from '../feedback/finding-list.tsx';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { Absent, TakeOut } from './absent.tsx';
import { pointerAt } from './choices.ts';
import { WhenEditable } from './editing.tsx';
import { withUnit } from './field-numbers.ts';
import { choiceGiven, isSteel, shownIn, variantOf } from './field-values.ts';
import { FormRoot, Offers, useFieldState, useWriting } from './form-source.tsx';
import {
  documentFields,
  type Field,
  fieldAt,
  type GroupField,
  type ListField,
  type VariantField,
} from './forms.ts';
import { Inside } from './inside.tsx';
import {
  columnsOf,
  Framed,
  Leaf,
  type LeafProps,
  type Setter,
  Several,
  TableList,
} from './leaf.tsx';
import { type Begin, Named } from './named.tsx';
import { OpenedForm } from './unsent.tsx';

/** Kinds of field that show themselves why a value was refused. */
const SAYS_WHY: readonly Field['kind'][] = ['number', 'row', 'list'];

interface Props {
  readonly path: string;
  readonly fields: readonly Field[];
}

export function Form({ path, fields }: Props) {
  return (
    <FormRoot path={path} fields={fields}>
      {fields.map((field) => (
        <FieldAt key={field.key} field={field} path={path ? `${path}.${field.key}` : field.key} />
      ))}
    </FormRoot>
  );
}

/** All fields of a group; of what excludes each other, the one that is given. */
export function GroupForm({ path, field }: { path: string; field: GroupField }) {
  const { value: values } = useFieldState(path);
  return (
    <>
      <Form path={path} fields={shownIn(field, values)} />
      <WhenEditable>
        {field.choices.map((choice) => (
          <Instead key={choice.join()} {...{ field, choice, path, values }} />
        ))}
      </WhenEditable>
    </>
  );
}

interface InsteadProps {
  readonly field: GroupField;
  readonly choice: GroupField['choices'][number];
  readonly path: string;
  readonly values: unknown;
}

/** What may be given instead of what excludes it; both happen in one step. */
function Instead({ field, choice, path, values }: InsteadProps) {
  const { session } = useEditing();
  const given = choiceGiven(choice, values);
  return (
    <>
      {choice
        .filter((keys) => keys !== given)
        .map((keys) => {
          const fields = keys.flatMap((key) => field.fields.filter((one) => one.key === key));
          const label = fields.map((one) => one.label).join(', ');
          const send = (value: unknown) =>
            session.attempt(
              [
                ...given
                  .filter((key) => at(values, key) !== undefined)
                  .map((key) => ({ op: 'remove', path: `${path}.${key}` }) as const),
                ...keys.map((key) => {
                  return { op: 'set', path: `${path}.${key}`, value: at(value, key) } as const;
                }),
              ],
              `${label} instead`,
            );
          const group: GroupField = {
            ...field,
            fields: fields.map((one) => ({ ...one, optional: false })),
            required: keys,
            constants: {},
            choices: [],
          };
          return (
            <OpenedForm
              key={label}
              field={group}
              path={path}
              words={`give ${label} instead`}
              send={send}
            />
          );
        })}
    </>
  );
}

/** A field at a path, with what was refused, offered and found there. */
interface FieldAtProps {
  readonly field: Field;
  readonly path: string;
  /** What stands above the form of one of several named things. */
  readonly head?: ((name: string) => ComponentChildren) | undefined;
  readonly begin?: Begin | undefined;
}

export function FieldAt({ field, path, head, begin }: FieldAtProps) {
  const writing = useWriting();
  const { value: current, before, refused, offers, findings } = useFieldState(path);
  const value = current ?? (field.optional ? undefined : field.fallback);
  // every field hears of every input, which concerns one
  const control = useMemo(() => {
    const set: Setter = (next, gesture = null, what = labelOf(field, next)) =>
      next === undefined
        ? writing.send([{ op: 'remove', path }], `no ${field.label}`)
        : writing.set(path, next, what, gesture);
    const forget = () => writing.forget(path);
    return (
      <Control {...{ field, value, path, set, refused, forget, head, begin }} original={before} />
    );
  }, [field, value, path, refused, before, writing]);
  const saysWhy = SAYS_WHY.includes(field.kind) && value !== undefined;
  return (
    <div class="field-at" data-path={path}>
      {control}
      {!saysWhy && refused.map((sentence) => <RefusalMessage key={sentence} words={sentence} />)}
      <Offers {...{ offers, path, value }} />
      {field.kind !== 'group' && field.kind !== 'named' && <Findings findings={findings} />}
    </div>
  );
}

function Control({ head, begin, ...props }: LeafProps & Pick<FieldAtProps, 'head' | 'begin'>) {
  const { field, value, path } = props;
  if (field.kind === 'named') {
    return (
      <Named
        field={field}
        value={value}
        path={path}
        begin={begin}
        body={(name) => (
          <>
            {head?.(name)}
            <NamedBody field={field.item} path={`${path}.${name}`} />
          </>
        )}
      />
    );
  }
  if ((value === undefined || value === null) && isPutIn(field)) return <Absent {...props} />;
  switch (field.kind) {
    case 'row':
      return (
        <Framed field={field} action={<TakeOut {...props} />}>
          <Leaf {...props} />
        </Framed>
      );
    case 'group':
      return (
        <Framed field={field} action={<TakeOut {...props} />}>
          <GroupForm path={path} field={field} />
        </Framed>
      );
    case 'list':
      return (
        <Framed field={field} action={<TakeOut {...props} />}>
          <List {...props} field={field} />
        </Framed>
      );
    case 'variant':
      return <Variant {...props} field={field} />;
    default:
      return <Leaf {...props} />;
  }
}

/** What belongs to a name: the fields of a group without a frame, or the value itself. */
export function NamedBody({ field, path }: { field: Field; path: string }) {
  return field.kind === 'group' ? (
    <GroupForm path={path} field={field} />
  ) : (
    <FieldAt field={field} path={path} />
  );
}

/** Whether it is put in as a whole where it is not there. */
const isPutIn = (field: Field): boolean =>
  ['row', 'group', 'list', 'variant'].includes(field.kind) || isSteel(field);

/** Entries of a list are set as a whole, since a path does not reach inside one. */
function List(props: LeafProps<ListField>) {
  const { field, value, path, set, refused = [] } = props;
  const { grammar } = useKnown();
  const { readOnly } = useEditing();
  if (pointerAt(grammar, `${path}.0`)) return <Several {...props} />;
  if (columnsOf(field).length > 0) return <TableList {...props} />;
  return (
    <>
      <fieldset disabled={readOnly}>
        <Inside field={field} value={value} path={path} set={set} />
      </fieldset>
      {refused.map((sentence) => (
        <RefusalMessage key={sentence} words={sentence} />
      ))}
    </>
  );
}

/** One of several kinds of value; another kind is filled in before it takes the place. */
function Variant(props: LeafProps<VariantField>) {
  const { field, value, path } = props;
  const variant = variantOf(field, value) ?? field.variants[0];
  if (!variant) return null;
  const isPart = variant.kind === 'group' && 'kind' in variant.constants;
  const others = isPart ? [] : field.variants.filter((one) => one !== variant);
  return (
    <>
      <p class="variant-head">
        <span>{isPart ? <b>{variant.label}</b> : `${field.label}: ${variant.label}`}</span>
        <TakeOut {...props} />
      </p>
      {variant.kind === 'group' ? (
        <GroupForm path={path} field={variant} />
      ) : (
        <Control {...props} field={{ ...variant, about: field.about, optional: false }} />
      )}
      <WhenEditable>
        {others.map((one) => (
          <OpenedForm
            key={one.label}
            field={one}
            path={path}
            words={`${field.label} ${one.label} instead`}
          />
        ))}
      </WhenEditable>
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

/** The field of a section of the document, by its path. */
export function useDocumentField(path: string): Field | undefined {
  const { grammar } = useKnown();
  const fields = useMemo(() => documentFields(grammar.document_schema), [grammar]);
  return fieldAt(fields, path);
}
