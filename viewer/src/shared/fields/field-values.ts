/** Values of fields: what to begin with, what is missing, which kind stands there. */
import { isMapping, type Mapping, mapping } from '../boat/document.ts';
import type { Field, GroupField, NumberField, VariantField } from './forms.ts';

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
    case 'list':
      return Array.from({ length: Math.max(1, field.fewest) }, () => blank(field.item));
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
      return field.variants[0] && blank(field.variants[0]);
    default:
      return undefined;
  }
}

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

/** Of groups of keys that exclude each other, the one that is given, or the first. */
export const choiceGiven = (
  choice: readonly (readonly string[])[],
  values: unknown,
): readonly string[] =>
  choice.find((keys) => keys.some((key) => mapping(values)[key] !== undefined)) ?? choice[0] ?? [];

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
