/** From the JSON Schema of the document, or of a part's dimensions, to the fields of a form. */
import { isMapping, type Mapping, mapping, text } from '../boat/document.ts';
import { keyWords } from '../words/plain-words.ts';

interface Common {
  readonly key: string;
  readonly label: string;
  readonly about: string;
  /** Whether the document may leave it out altogether. */
  readonly optional: boolean;
  readonly fallback: unknown;
  /** The page that has a form of its own to put it in with, or empty. */
  readonly enteredOn?: string;
}
/** A number; limits, slider and step are in the document's unit, `factor` turns it to the shown. */
export interface NumberField extends Common {
  readonly kind: 'number';
  readonly unit: string;
  readonly factor: number;
  readonly whole: boolean;
  readonly least: number;
  readonly most: number;
  readonly low: number;
  readonly high: number;
  readonly step: number;
  /** Whether it is drawn as a slider too. */
  readonly slider: boolean;
}
export interface RowField extends Common {
  readonly kind: 'row';
  readonly fields: readonly NumberField[];
}
export interface GroupField extends Common {
  readonly kind: 'group';
  readonly fields: readonly Field[];
  /** Keys whose value is fixed, such as the kind of a part. */
  readonly constants: Mapping;
  readonly required: readonly string[];
  /** Groups of keys of which one is given, for each choice there is. */
  readonly choices: readonly (readonly (readonly string[])[])[];
}
export interface ListField extends Common {
  readonly kind: 'list';
  readonly item: Field;
  readonly fewest: number;
}
/** Entries under names of the owner's, or under some of a few keys. */
export interface NamedField extends Common {
  readonly kind: 'named';
  readonly item: Field;
  readonly keys: readonly string[];
}
/** One of several kinds of value. */
export interface VariantField extends Common {
  readonly kind: 'variant';
  readonly variants: readonly Field[];
}
/** Values of any kind under dotted paths. */
interface PathsField extends Common {
  readonly kind: 'paths';
}
interface SwitchField extends Common {
  readonly kind: 'switch';
}
export interface ChoiceField extends Common {
  readonly kind: 'choice';
  readonly choices: readonly string[];
}
export interface TextField extends Common {
  readonly kind: 'text';
  readonly long: boolean;
}
export type Field =
  | NumberField
  | RowField
  | GroupField
  | ListField
  | NamedField
  | VariantField
  | PathsField
  | SwitchField
  | ChoiceField
  | TextField;

/** What a schema is read by: its definitions, and the unit lengths are shown in. */
interface Reading {
  readonly root: Mapping;
  readonly lengths: 'm' | 'mm';
  /** The key that carries the unit of what stands in a group, such as `box_m`. */
  readonly unitKey?: string;
}

const COORDINATES = ['x, aft', 'y, to starboard', 'z, up'] as const;

/** The fields of a part's dimensions, in its own order; what is fixed (the kind) has none. */
export const fieldsOf = (schema: Mapping): readonly Field[] =>
  fieldsIn(schema, { root: schema, lengths: 'mm' });

/** The fields of the whole document; places are in metres, steel in millimetres. */
export const documentFields = (schema: Mapping): readonly Field[] =>
  fieldsIn(schema, { root: schema, lengths: 'm' });

/** The field at a path; undefined where there is none, or it lies in one of several kinds. */
export function fieldAt(fields: readonly Field[], path: string): Field | undefined {
  const [key = '', ...rest] = path.split('.');
  return below(
    fields.find((one) => one.key === key),
    rest,
  );
}

function below(field: Field | undefined, [key, ...rest]: readonly string[]): Field | undefined {
  if (key === undefined || !field) return field;
  if (field.kind === 'named') return below(field.item, rest);
  return field.kind === 'group' ? fieldAt(field.fields, [key, ...rest].join('.')) : undefined;
}

function fieldsIn(schema: Mapping, reading: Reading): readonly Field[] {
  const required = Array.isArray(schema.required) ? schema.required : [];
  return Object.entries(mapping(schema.properties)).flatMap(([key, property]) => {
    const field = fieldOf(key, mapping(property), reading, !required.includes(key));
    return field ? [field] : [];
  });
}

function fieldOf(
  key: string,
  property: Mapping,
  reading: Reading,
  absent: boolean,
): Field | undefined {
  const { schema, nullable } = resolved(property, reading.root);
  if ('const' in schema && !nullable) return undefined;
  const common: Common = {
    key,
    label: labelOf(key, text(property.title) || text(schema.title)),
    about: text(property.description) || text(schema.description),
    optional: nullable && absent,
    fallback: property.default,
    enteredOn: text(property.entered_on),
  };
  if (Array.isArray(schema.oneOf)) return variantField(common, schema.oneOf, reading);
  const words = 'const' in schema ? [schema.const] : schema.enum;
  if (Array.isArray(words)) return { ...common, kind: 'choice', choices: words.map(String) };
  return typedField(common, schema, reading);
}

function typedField(common: Common, schema: Mapping, reading: Reading): Field | undefined {
  switch (schema.type) {
    case 'number':
    case 'integer':
      return numberField(common, schema, reading);
    case 'boolean':
      return { ...common, kind: 'switch' };
    case 'string':
      return { ...common, kind: 'text', long: Number(schema.maxLength) >= 2000 };
    case 'object':
      return objectField(common, schema, reading);
    case 'array':
      return arrayField(common, schema, reading);
    default:
      return undefined;
  }
}

/** The kinds of value there are; those of a part are told apart by their kind. */
function variantField(common: Common, kinds: readonly unknown[], reading: Reading): VariantField {
  const variants = kinds.flatMap((kind) => {
    const { schema } = resolved(mapping(kind), reading.root);
    const part = text(mapping(mapping(schema.properties).kind).const);
    const lengths = part ? 'mm' : reading.lengths;
    const field = fieldOf(common.key, mapping(kind), { ...reading, lengths }, false);
    const label = part ? keyWords(part) : text(schema.title) || common.label;
    return field ? [{ ...field, label }] : [];
  });
  return { ...common, kind: 'variant', variants };
}

function objectField(common: Common, schema: Mapping, reading: Reading): Field | undefined {
  const [pattern] = Object.values(mapping(schema.patternProperties));
  const inner = pattern ?? schema.additionalProperties;
  if (!isMapping(inner)) {
    const properties = Object.entries(mapping(schema.properties));
    const constants = properties.flatMap(([key, value]) =>
      isMapping(value) && 'const' in value ? [[key, value.const]] : [],
    );
    const required = Array.isArray(schema.required) ? schema.required.map(String) : [];
    const { key } = common;
    const fields = fieldsIn(schema, UNIT.test(key) ? { ...reading, unitKey: key } : reading);
    return {
      ...common,
      kind: 'group',
      fields,
      constants: Object.fromEntries(constants),
      required,
      choices: choicesIn(schema.one_of),
    };
  }
  const item = fieldOf(common.key, inner, reading, false);
  if (!item) return { ...common, kind: 'paths' };
  const names = mapping(schema.propertyNames).enum;
  return { ...common, kind: 'named', item, keys: Array.isArray(names) ? names.map(String) : [] };
}

const choicesIn = (given: unknown): GroupField['choices'] =>
  listed(given).map((choice) => listed(choice).map((keys) => listed(keys).map(String)));

const listed = (given: unknown): readonly unknown[] => (Array.isArray(given) ? given : []);

function arrayField(common: Common, schema: Mapping, reading: Reading): Field | undefined {
  if (Array.isArray(schema.prefixItems)) {
    const fields = schema.prefixItems.map((item, i) => {
      const inner = resolved(mapping(item), reading.root).schema;
      const label = text(inner.title) || COORDINATES[i] || `${i + 1}`;
      const about = text(inner.description);
      const one = { ...common, label, about, fallback: undefined, optional: false };
      return numberField(one, inner, reading);
    });
    return { ...common, kind: 'row', fields };
  }
  const item = fieldOf(common.key, mapping(schema.items), reading, false);
  const fewest = typeof schema.minItems === 'number' ? schema.minItems : 0;
  return item && { ...common, kind: 'list', item, fewest };
}

function numberField(common: Common, schema: Mapping, reading: Reading): NumberField {
  const { unit, factor } = unitIn(schema, common.key, reading);
  const whole = schema.type === 'integer';
  const limit = (key: string, other: number) =>
    typeof schema[key] === 'number' ? schema[key] : other;
  const least = limit('minimum', limit('exclusiveMinimum', -Infinity));
  const most = limit('maximum', limit('exclusiveMaximum', Infinity));
  // a share of the boat's own measures says nothing about the number alone
  const isShare = 'typical_of' in schema;
  const usual = (key: string, other: number) => (isShare ? other : limit(key, other));
  const slider = reading.lengths === 'mm';
  // a slider has two ends
  const end = (bound: number, other: number) => (slider && !Number.isFinite(bound) ? other : bound);
  const low = usual('typical_minimum', end(least, 0));
  const high = usual('typical_maximum', end(most, low + 10));
  const usualStep = slider ? (high - low) / 100 : TYPED_STEP[unit] || 1;
  const step = limit('step', whole ? 1 : usualStep);
  return { ...common, kind: 'number', unit, factor, whole, least, most, low, high, step, slider };
}

function resolved(property: Mapping, root: Mapping): { schema: Mapping; nullable: boolean } {
  if (Array.isArray(property.anyOf)) {
    const kinds = property.anyOf.map((s) => mapping(s));
    const real = kinds.filter((s) => s.type !== 'null');
    return {
      schema: real.length === 1 ? resolved(mapping(real[0]), root).schema : { oneOf: real },
      nullable: real.length < kinds.length,
    };
  }
  const reference = text(property.$ref);
  if (!reference) return { schema: property, nullable: false };
  return {
    schema: mapping(mapping(root.$defs)[reference.replace('#/$defs/', '')]),
    nullable: false,
  };
}

function labelOf(key: string, given: string): string {
  const words = given || keyWords(key.replace(UNIT, ''));
  const end = /^X (forward|aft)$/.exec(words)?.[1];
  if (end) return end === 'aft' ? 'after end' : 'forward end';
  const plain = words.replace(/ z$/, ' height');
  return /^[A-Z]([a-z]|$)/.test(plain) ? plain.charAt(0).toLowerCase() + plain.slice(1) : plain;
}

/** By how much an arrow key steps what has no slider. */
const TYPED_STEP: Readonly<Record<string, number>> = { m: 0.01, '°': 0.1, 'm²': 0.01 };

const UNIT = /_(kg_m3|kg_m2|kgm|kwh|mm|m2|deg|percent|kg|m|l|s)$/;
const UNIT_SIGNS: Readonly<Record<string, string>> = {
  deg: '°',
  percent: '%',
  m2: 'm²',
  kg_m3: 'kg/m³',
  kg_m2: 'kg/m²',
  kgm: 'kg·m',
  kwh: 'kWh',
};

/** The unit of a number: what its schema says, or else its own key, or that of the group it is in. */
function unitIn(schema: Mapping, key: string, { lengths, unitKey = key }: Reading) {
  if (typeof schema.unit === 'string') return { unit: schema.unit, factor: 1 };
  return unitOf(UNIT.test(key) ? key : unitKey, lengths);
}

/** Steel is shown in millimetres; the rest in the unit its name carries. */
function unitOf(key: string, lengths: 'm' | 'mm'): { unit: string; factor: number } {
  if (/_m$/.test(key) && lengths === 'mm') return { unit: 'mm', factor: 1000 };
  const unit = UNIT.exec(key)?.[1] ?? '';
  return { unit: UNIT_SIGNS[unit] ?? unit, factor: 1 };
}
