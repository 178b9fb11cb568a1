/** From the JSON Schema of a part's dimensions to the fields of its form. */
import { isMapping, type Mapping, mapping, text } from '../boat/document.ts';
import { NUMBER_WANTED, numberTyped } from '../words/numbers.ts';
import { plainWords } from '../words/plain-words.ts';

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
}
export interface RowField extends Common {
  readonly kind: 'row';
  readonly fields: readonly NumberField[];
}
export interface GroupField extends Common {
  readonly kind: 'group';
  readonly fields: readonly Field[];
}
export interface ListField extends Common {
  readonly kind: 'list';
  readonly item: Field;
  readonly fewest: number;
}
interface SwitchField extends Common {
  readonly kind: 'switch';
}
interface ChoiceField extends Common {
  readonly kind: 'choice';
  readonly choices: readonly string[];
}
interface TextField extends Common {
  readonly kind: 'text';
}
export type Field =
  | NumberField
  | RowField
  | GroupField
  | ListField
  | SwitchField
  | ChoiceField
  | TextField;

const COORDINATES = ['x, aft', 'y, to starboard', 'z, up'] as const;

/** The fields of a schema's properties, in its own order; what is fixed (the kind) has none. */
export function fieldsOf(schema: Mapping, root: Mapping = schema): readonly Field[] {
  const required = Array.isArray(schema.required) ? schema.required : [];
  return Object.entries(mapping(schema.properties)).flatMap(([key, property]) => {
    const field = fieldOf(key, mapping(property), root, !required.includes(key));
    return field ? [field] : [];
  });
}

function fieldOf(
  key: string,
  property: Mapping,
  root: Mapping,
  absent: boolean,
): Field | undefined {
  const { schema, nullable } = resolved(property, root);
  if ('const' in schema) return undefined;
  const common: Common = {
    key,
    label: labelOf(key, text(property.title) || text(schema.title)),
    about: text(property.description) || text(schema.description),
    optional: nullable && absent,
    fallback: property.default,
    enteredOn: text(property.entered_on),
  };
  if (Array.isArray(schema.enum)) {
    return { ...common, kind: 'choice', choices: schema.enum.map(String) };
  }
  switch (schema.type) {
    case 'number':
    case 'integer':
      return numberField(common, schema);
    case 'boolean':
      return { ...common, kind: 'switch' };
    case 'string':
      return { ...common, kind: 'text' };
    case 'object':
      return { ...common, kind: 'group', fields: fieldsOf(schema, root) };
    case 'array':
      return arrayField(common, schema, root);
    default:
      return undefined;
  }
}

function arrayField(common: Common, schema: Mapping, root: Mapping): Field | undefined {
  if (Array.isArray(schema.prefixItems)) {
    const fields = schema.prefixItems.map((item, i) => {
      const inner = resolved(mapping(item), root).schema;
      const label = text(inner.title) || COORDINATES[i] || `${i + 1}`;
      const about = text(inner.description);
      return numberField({ ...common, label, about, fallback: undefined, optional: false }, inner);
    });
    return { ...common, kind: 'row', fields };
  }
  const item = fieldOf(common.key, mapping(schema.items), root, false);
  const fewest = typeof schema.minItems === 'number' ? schema.minItems : 0;
  return item && { ...common, kind: 'list', item, fewest };
}

function numberField(common: Common, schema: Mapping): NumberField {
  const { unit, factor } = unitOf(common.key);
  const whole = schema.type === 'integer';
  const limit = (key: string, other: number) =>
    typeof schema[key] === 'number' ? schema[key] : other;
  const least = limit('minimum', limit('exclusiveMinimum', -Infinity));
  const most = limit('maximum', limit('exclusiveMaximum', Infinity));
  const low = limit('typical_minimum', Number.isFinite(least) ? least : 0);
  const high = limit('typical_maximum', Number.isFinite(most) ? most : low + 10);
  const step = limit('step', whole ? 1 : (high - low) / 100);
  return { ...common, kind: 'number', unit, factor, whole, least, most, low, high, step };
}

function resolved(property: Mapping, root: Mapping): { schema: Mapping; nullable: boolean } {
  if (Array.isArray(property.anyOf)) {
    const kinds = property.anyOf.map((s) => mapping(s));
    const real = kinds.find((s) => s.type !== 'null') ?? {};
    return {
      schema: resolved(real, root).schema,
      nullable: kinds.some((s) => s.type === 'null'),
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
  const words = given || plainWords(key.replace(/_(m|mm|deg|kg|l|m2|percent)$/, ''));
  const end = /^X (forward|aft)$/.exec(words)?.[1];
  if (end) return end === 'aft' ? 'after end' : 'forward end';
  const plain = words.replace(/ z$/, ' height');
  return /^[A-Z][a-z]/.test(plain) ? plain.charAt(0).toLowerCase() + plain.slice(1) : plain;
}

const UNIT_SIGNS: Readonly<Record<string, string>> = { deg: '°', percent: '%' };

/** Steel is shown in millimetres; the rest in the unit its name carries. */
function unitOf(key: string): { unit: string; factor: number } {
  if (/_m$/.test(key)) return { unit: 'mm', factor: 1000 };
  const unit = /_(mm|deg|kg|l|percent)$/.exec(key)?.[1] ?? '';
  return { unit: UNIT_SIGNS[unit] ?? unit, factor: 1 };
}

/** A value as shown, without its unit: all of it, so that what was typed stands as it was. */
export const shown = (field: NumberField, value: number): string =>
  String(Number((value * field.factor).toPrecision(15))).replace('-', '−');

/** Other units that may be typed, and how many of a field's own they are. */
const UNITS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  mm: { cm: 10, m: 1000 },
  kg: { t: 1000 },
  '°': { deg: 1 },
};

/** What to type instead of what cannot be read. */
export const misreadWords = ({ whole, unit }: NumberField): string =>
  `type a ${whole ? 'whole ' : ''}number${unit ? ` in ${unit}` : ''}, ${NUMBER_WANTED}; Escape ` +
  'brings the old one back';

/** A typed text as the document's value; undefined where it is no number, not a whole one or of another unit. */
export function typed(field: NumberField, entry: string): number | undefined {
  const [, digits = '', unit = ''] = /^(.*?)\s*([a-z°%]*)$/i.exec(entry.trim()) ?? [];
  const times = unit === '' || unit === field.unit ? 1 : UNITS[field.unit]?.[unit];
  if (times === undefined) return undefined;
  const value = Number(((numberTyped(digits) * times) / field.factor).toPrecision(15));
  return !Number.isFinite(value) || (field.whole && !Number.isInteger(value)) ? undefined : value;
}

/** A value with its unit. */
export const withUnit = (field: NumberField, value: number): string => {
  const gap = field.unit === '°' || field.unit === '' ? '' : ' ';
  return `${shown(field, value)}${gap}${field.unit}`;
};

/** Why a value is beyond its limits, in what the page calls it; empty where it is not. */
export function beyondWords(field: NumberField, value: number): string {
  const is = `${field.label} is ${withUnit(field, value)}: it must be`;
  if (value < field.least) return `${is} at least ${withUnit(field, field.least)}.`;
  if (value > field.most) return `${is} at most ${withUnit(field, field.most)}.`;
  return '';
}

/** A word of warning where a value is possible but unusual, or an empty text. */
export function unusual(field: NumberField, value: number): string {
  if (value >= field.low - 1e-9 && value <= field.high + 1e-9) return '';
  const range = `${shown(field, field.low)} to ${withUnit(field, field.high)}`;
  return `outside the usual ${range}: check it`;
}

/** A value to begin with where an optional entry is put in. */
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
      return Object.fromEntries(
        field.fields.filter((f) => !f.optional).map((f) => [f.key, beginning(f)]),
      );
    case 'list':
      return Array.from({ length: field.fewest }, () => beginning(field.item));
    case 'switch':
      return false;
    case 'choice':
      return field.choices[0] ?? '';
    case 'text':
      return '';
  }
}

const rounded = (value: number, field: NumberField) =>
  field.whole
    ? Math.round(value)
    : Number((Math.round(value / field.step) * field.step).toPrecision(15));

/** Whether two values of a document are the same. */
export function same(a: unknown, b: unknown): boolean {
  if (Array.isArray(a) && Array.isArray(b)) {
    return a.length === b.length && a.every((x, i) => same(x, b[i]));
  }
  if (isMapping(a) && isMapping(b)) {
    const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
    return [...keys].every((k) => same(a[k], b[k]));
  }
  return a === b;
}
