/** Values of fields: what to begin with, what is missing, which kind stands there; offers. */
import type { Edit, ProblemOffer } from '../../contract.ts';
import { isWithin } from '../answer/findings.ts';
import { isMapping, type Mapping, mapping, numberOr } from '../boat/document.ts';
import { withUnit } from './field-numbers.ts';
import {
  type Field,
  fieldAt,
  type GroupField,
  type NumberField,
  type RowField,
  type VariantField,
} from './forms.ts';

/** A value to begin with where an optional entry of a part is put in. */
export function beginning(field: Field): unknown {
  if (field.fallback !== undefined && field.fallback !== null) return field.fallback;
  switch (field.kind) {
    case 'number':
      return Math.min(
        Math.max(rounded((field.low + field.high) / 2, field), field.least),
        field.most,
      );
    case 'row':
      return field.fields.map(beginning);
    case 'group':
      return {
        ...field.constants,
        ...Object.fromEntries(
          field.fields.filter((f) => !f.optional).map((f) => [f.key, beginning(f)]),
        ),
      };
    case 'list':
      return Array.from({ length: field.fewest }, () => beginning(field.item));
    case 'variant':
      return field.variants[0] && beginning(field.variants[0]);
    case 'named':
    case 'paths':
      return {};
    case 'switch':
      return false;
    case 'choice':
      return field.choices[0] ?? '';
    case 'text':
      return '';
  }
}

/** A value with nothing in it yet, for a form that is filled in before it is sent. */
export function blank(field: Field): unknown {
  switch (field.kind) {
    case 'row':
      return field.fields.map(() => null);
    case 'list': {
      // names of other things are ticked, and nothing is ticked yet
      const rows = field.item.kind === 'text' ? 0 : Math.max(1, field.fewest);
      return Array.from({ length: rows }, () => blank(field.item));
    }
    case 'group':
      return {
        ...field.constants,
        ...Object.fromEntries(
          field.fields
            .filter((f) => needed(field, {}).includes(f.key))
            .map((f) => [f.key, isSteel(f) ? beginning(f) : blank(f)]),
        ),
      };
    case 'variant':
      return field.variants[0] && begunKind(field.variants[0]);
    default:
      return undefined;
  }
}

/** One of several kinds of value, begun: an empty text where its kind has nothing to begin with. */
export const begunKind = (kind: Field): unknown => begun(kind) ?? '';

/** What to begin with where it is put in: steel with usual dimensions, the rest empty. */
export const begun = (field: Field): unknown => (isSteel(field) ? beginning(field) : blank(field));

/** Whether it holds dimensions of steel, which are drawn as sliders. */
export function isSteel(field: Field): boolean {
  switch (field.kind) {
    case 'number':
      return field.slider;
    case 'row':
    case 'group':
      return field.fields.some(isSteel);
    case 'list':
    case 'named':
      return isSteel(field.item);
    case 'variant':
      return field.variants.some(isSteel);
    default:
      return false;
  }
}

/** A value without what was left empty. */
export function filledIn(value: unknown): unknown {
  if (!isMapping(value)) return value;
  const entries = Object.entries(value).map(([key, one]) => [key, filledIn(one)] as const);
  return Object.fromEntries(entries.filter(([, one]) => one !== undefined && one !== null));
}

/** Of groups of keys that exclude each other, the one that is given whole, or in part, or the first. */
export const choiceGiven = (
  choice: readonly (readonly string[])[],
  values: unknown,
): readonly string[] =>
  choice.find((keys) => keys.every((key) => mapping(values)[key] !== undefined)) ??
  choice.find((keys) => keys.some((key) => mapping(values)[key] !== undefined)) ??
  choice[0] ??
  [];

/** Some keys of a group begun in place of those that exclude them. */
export const begunInstead = (
  { fields }: GroupField,
  choice: readonly (readonly string[])[],
  keys: readonly string[],
): Mapping =>
  Object.fromEntries(
    fields
      .filter(({ key }) => choice.flat().includes(key))
      .map((one) => [one.key, keys.includes(one.key) ? begunKind(one) : undefined]),
  );

/** The fields of a group that belong to what is given of what excludes each other. */
export function shownIn({ fields, choices }: GroupField, values: unknown): readonly Field[] {
  const given = choices.flatMap((choice) => choiceGiven(choice, values));
  return fields
    .filter((one) => given.includes(one.key) || !choices.flat(2).includes(one.key))
    .map((one) => (given.includes(one.key) ? { ...one, optional: false } : one));
}

/** What is still to be filled in, by its label; empty where all is there. */
export function missingIn(field: Field, value: unknown): readonly string[] {
  if (isEmpty(value)) return [field.label];
  switch (field.kind) {
    case 'row':
      return entriesOf(value).every((one) => typeof one === 'number') ? [] : [field.label];
    case 'list':
      return entriesOf(value).flatMap((one, i) =>
        missingIn(field.item, one).map((label) => `${label}, number ${i + 1}`),
      );
    case 'group':
      return missingInGroup(field, mapping(value));
    case 'variant':
      return missingInVariant(field, value);
    default:
      return [];
  }
}

const isEmpty = (value: unknown) => value === undefined || value === null || value === '';
const entriesOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

function missingInGroup(field: GroupField, values: Mapping): readonly string[] {
  const asked = needed(field, values);
  return field.fields
    .filter(({ key }) => asked.includes(key) || values[key] !== undefined)
    .flatMap((one) => missingIn(one, values[one.key] ?? one.fallback));
}

function missingInVariant(field: VariantField, value: unknown): readonly string[] {
  const variant = variantOf(field, value);
  return variant ? missingIn(variant, value) : [field.label];
}

/** Keys that must be there: those that are required, and those of a group that was begun. */
const needed = ({ required, choices }: GroupField, value: unknown): readonly string[] => [
  ...required,
  ...choices.flatMap((choice) => choiceGiven(choice, value)),
];

/** The kind of value that stands there, of those there may be. */
export function variantOf(field: VariantField, value: unknown): Field | undefined {
  return field.variants.find((variant) => {
    switch (variant.kind) {
      case 'number':
        return typeof value === 'number';
      case 'row':
      case 'list':
        return Array.isArray(value);
      case 'choice':
        return typeof value === 'string';
      case 'group':
        return (
          isMapping(value) &&
          Object.entries(variant.constants).every(([key, one]) => value[key] === one) &&
          variant.required.every((key) => key in variant.constants || key in value)
        );
      default:
        return false;
    }
  });
}

const rounded = (value: number, field: NumberField) =>
  field.whole
    ? Math.round(value)
    : Number((Math.round(value / field.step) * field.step).toPrecision(15));

const MOST_NAMED = 2;

/** A form: the path of what it edits, and its fields. */
export interface WholeForm {
  readonly path: string;
  readonly fields: readonly Field[];
}

/** What an offer for a field sets, such as "620 mm"; what it sets elsewhere is named. */
export function offeredWords(
  form: WholeForm,
  offer: ProblemOffer,
  path: string,
  current: unknown,
): string {
  if (offer.values.length > MOST_NAMED) return 'the proposed dimensions';
  const alone = offer.values.length === 1;
  const words = offer.values.map((one) => {
    const field = fieldOf(form, one.path);
    if (field === undefined) return undefined;
    const isHere = one.path === path;
    return valueWords(field, one.value, {
      current: isHere ? current : undefined,
      alone: alone && isHere,
    });
  });
  const known = words.filter((one) => one !== undefined);
  return known.length === words.length ? known.join(' and ') : offer.sentence;
}

/** The field of a form at a path, where there is one. */
export const fieldOf = ({ path, fields }: WholeForm, at: string): Field | undefined =>
  at.startsWith(`${path}.`) ? fieldAt(fields, at.slice(path.length + 1)) : undefined;

interface Around {
  readonly current: unknown;
  /** Whether it is the only value, and stands in the field itself. */
  readonly alone: boolean;
}

function valueWords(field: Field, value: unknown, { current, alone }: Around): string {
  if (value === null) return `no ${field.label}`;
  if (field.kind === 'number' || field.kind === 'row') {
    const inside =
      field.kind === 'number'
        ? withUnit(field, numberOr(value, 0))
        : rowWords(field, value, current);
    return alone ? inside : `${field.label} ${inside}`;
  }
  return typeof value === 'string' ? `${field.label} ${value}` : `${field.label} as proposed`;
}

/** The numbers of a row that differ from those that stand there. */
function rowWords(field: RowField, value: unknown, current: unknown): string {
  const [row, before] = [value, current].map((one) => (Array.isArray(one) ? one : []));
  return field.fields
    .map((one, i) => ({ one, number: row?.[i], differs: row?.[i] !== before?.[i] }))
    .filter(({ differs }) => differs)
    .map(({ one, number }) => `${one.label} ${withUnit(one, numberOr(number, 0))}`)
    .join(', ');
}

/** The edit that an offer is, with the refused value beside it where it sets another. */
export function offeredSteps(offer: ProblemOffer, path: string, typed: unknown): Edit['steps'] {
  const steps = offer.values.map((one) =>
    one.value === null
      ? ({ op: 'remove', path: one.path } as const)
      : ({ op: 'set', path: one.path, value: one.value } as const),
  );
  const isSet = offer.values.some((one) => isWithin(path, one.path));
  return isSet ? steps : [{ op: 'set', path, value: typed }, ...steps];
}
