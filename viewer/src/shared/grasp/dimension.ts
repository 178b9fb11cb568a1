/** The dimensions of new parts as what can be grasped, wherever they are drawn. */
import type { PartHandle, PartKind } from '../../contract.ts';
import type { FlatPoint } from '../boat/points.ts';
import { numberField } from '../fields/field-numbers.ts';
import { type Field, fieldsOf, type NumberField } from '../fields/forms.ts';
import { plainWords } from '../words/plain-words.ts';
import { type Graspable, intoRow, ofRow, single } from './graspable.ts';

/** A handle of a part with the field of its dimension. */
export interface Dimension {
  readonly handle: PartHandle;
  readonly name: string;
  readonly field: NumberField;
  /** The form of its part. */
  readonly form: { readonly path: string; readonly fields: readonly Field[] };
}

const keyIn = (path: string) => path.slice(path.lastIndexOf('.') + 1);

/** Handles with their fields: those that belong to what is picked first, then the main ones. */
export function dimensionsOf(
  handles: readonly PartHandle[],
  kinds: readonly PartKind[],
  picked: { readonly change: string; readonly part?: string | undefined } | undefined,
): readonly Dimension[] {
  const rank = (one: PartHandle) => {
    if (one.part === picked?.part) return one.is_main ? 0 : 1;
    return one.change === picked?.change ? 2 : 3;
  };
  return handles
    .filter((one) => one.is_main || one.part === picked?.part)
    .toSorted((a, b) => rank(a) - rank(b))
    .flatMap((handle) => {
      const kind = kinds.find((one) => one.kind === handle.kind);
      const dimension = kind && dimensionOf(handle, fieldsOf(kind.parameters));
      return dimension ? [dimension] : [];
    });
}

function dimensionOf(handle: PartHandle, fields: readonly Field[]): Dimension | undefined {
  const field = fields.find((one) => one.key === keyIn(handle.path));
  if (!field) return undefined;
  const own = field.kind === 'row' ? field.fields[handle.index ?? 0] : field;
  if (own?.kind !== 'number') return undefined;
  const label = own === field ? own.label : `${field.label} ${own.label}`;
  const form = { path: handle.path.slice(0, handle.path.lastIndexOf('.')), fields };
  return { handle, name: `${plainWords(handle.part)} ${label}`, field: own, form };
}

/** A dimension as it is grasped in a drawing, in which a metre more moves it so many pixels. */
export const graspable = ({ handle, name, field }: Dimension, way: FlatPoint): Graspable => ({
  path: handle.path,
  name,
  axes: [{ field, low: field.least, high: field.most, way }],
  read: handle.index === null ? single : ofRow(handle.index),
  write: handle.index === null ? ([value]) => value : intoRow(handle.index),
});

/** A length of the document that is no dimension of a part: how it is written, and its range [m]. */
export const lengthField = (
  label: string,
  [low, high]: readonly [number, number] = [-Infinity, Infinity],
  unit: 'm' | 'mm' = 'm',
): NumberField =>
  numberField(label, { low, high, unit, ...(unit === 'mm' ? { factor: 1000, step: 0.001 } : {}) });
