/** A form whose whole value is handed up, as it is filled in before it is sent. */

import { useState } from 'preact/hooks';
import { useKnown } from '../../session/context.tsx';
import { mapping } from '../boat/document.ts';
import { reworded } from '../words/sentences.ts';
import { pointerAt } from './choices.ts';
import { begun, begunInstead, begunKind, choiceGiven, shownIn, variantOf } from './field-values.ts';
import type { Field, GroupField, ListField, VariantField } from './forms.ts';
import { columnsOf, Framed, Leaf, type LeafProps, Several, TableList } from './leaf.tsx';

type Props<F extends Field = Field> = Pick<LeafProps<F>, 'field' | 'value' | 'path' | 'set'>;

export function Inside(props: Props) {
  const { field } = props;
  switch (field.kind) {
    case 'named':
      return null; // entered once the thing itself is there
    case 'group':
      return <Group {...props} field={field} />;
    case 'list':
      return <List {...props} field={field} />;
    case 'variant':
      return <Variant {...props} field={field} />;
    default:
      return <Leaf {...props} />;
  }
}

/** An entry of it, marked with its path as the fields of the document are. */
const Part = (props: Props) => (
  <div class="field-at" data-path={props.path}>
    <PartInside {...props} />
  </div>
);

/** What stands under a label of its own, and whether it is there at all. */
function PartInside({ field, value, path, set }: Props) {
  const isFramed = ['group', 'list', 'row', 'variant'].includes(field.kind);
  if (!isFramed || (field.kind === 'variant' && !field.optional)) {
    return <Inside field={field} value={value} path={path} set={set} />;
  }
  if (value === undefined || value === null) {
    return (
      <div class="absent">
        <span title={reworded(field.about)}>no {field.label}</span>
        <button type="button" class="quiet" onClick={() => set(begun(field))}>
          put in<span class="unseen"> {field.label}</span>
        </button>
      </div>
    );
  }
  const action = field.optional && (
    <button type="button" class="quiet" onClick={() => set(undefined)}>
      leave out<span class="unseen"> {field.label}</span>
    </button>
  );
  return (
    <Framed field={field} action={action}>
      <Inside field={field} value={value} path={path} set={set} />
    </Framed>
  );
}

function Group({ field, value, path, set }: Props<GroupField>) {
  const values = mapping(value);
  return (
    <>
      {field.choices.map((choice) => (
        <Choose key={choice.join()} {...{ field, choice, values, set }} />
      ))}
      {shownIn(field, values).map((one) => (
        <Part
          key={one.key}
          field={one}
          value={values[one.key] ?? fallbackOf(one)}
          path={`${path}.${one.key}`}
          set={(next, gesture, what) => set({ ...values, [one.key]: next }, gesture, what)}
        />
      ))}
    </>
  );
}

const fallbackOf = (field: Field) => (field.optional ? undefined : (field.fallback ?? undefined));

interface ChooseProps {
  readonly field: GroupField;
  readonly choice: GroupField['choices'][number];
  readonly values: Readonly<Record<string, unknown>>;
  readonly set: Props['set'];
}

/** Which of several groups of keys is filled in. */
function Choose({ field, choice, values, set }: ChooseProps) {
  const chosen = choiceGiven(choice, values) ?? [];
  const labelOf = (keys: readonly string[]) =>
    keys
      .flatMap((key) => field.fields.filter((one) => one.key === key))
      .map((one) => one.label)
      .join(', ');
  const turn = (label: string) => {
    const keys = choice.find((one) => labelOf(one) === label) ?? [];
    set({ ...values, ...begunInstead(field, choice, keys) });
  };
  return (
    <label class="choice">
      <span>given by</span>
      <select value={labelOf(chosen)} onChange={(e) => turn(e.currentTarget.value)}>
        {choice.map((keys) => (
          <option key={keys.join()}>{labelOf(keys)}</option>
        ))}
      </select>
    </label>
  );
}

function List({ field, value, path, set }: Props<ListField>) {
  const { grammar } = useKnown();
  const entries: readonly unknown[] = Array.isArray(value) ? value : [];
  if (pointerAt(grammar, `${path}.0`)) return <Several {...{ field, value, path, set }} />;
  if (columnsOf(field).length > 0) return <TableList {...{ field, value, path, set }} />;
  return (
    <>
      {entries.map((entry, i) => (
        <div key={i} class="entry" data-path={`${path}.${i}`}>
          <span class="entry-number">{i + 1}</span>
          <Inside
            field={field.item}
            value={entry}
            path={`${path}.${i}`}
            set={(next, gesture, what) => set(entries.with(i, next), gesture, what)}
          />
          {entries.length > field.fewest && (
            <button
              type="button"
              class="quiet"
              aria-label={`Delete number ${i + 1}`}
              onClick={() =>
                set(entries.toSpliced(i, 1), null, `${field.label}, number ${i + 1} deleted`)
              }
            >
              delete
            </button>
          )}
        </div>
      ))}
      <button
        type="button"
        class="quiet"
        onClick={() => set([...entries, entries.at(-1) ?? begun(field.item)])}
      >
        add one
      </button>
    </>
  );
}

function Variant({ field, value, path, set }: Props<VariantField>) {
  const [chosen, choose] = useState<Field>();
  // nothing is typed of it yet: nothing tells of which kind it is to be
  const begunAs = value === '' ? chosen : undefined;
  const variant = begunAs ?? variantOf(field, value) ?? field.variants[0];
  if (!variant) return null;
  const turn = (label: string) => {
    const next = field.variants.find((one) => one.label === label);
    choose(next);
    if (next) set(begunKind(next));
  };
  return (
    <>
      <label class="choice">
        <span>{field.label}</span>
        <select value={variant.label} onChange={(e) => turn(e.currentTarget.value)}>
          {field.variants.map((one) => (
            <option key={one.label}>{one.label}</option>
          ))}
        </select>
      </label>
      <Inside field={variant} value={value} path={path} set={set} />
    </>
  );
}
