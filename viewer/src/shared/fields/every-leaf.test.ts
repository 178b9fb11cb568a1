/** Every value that the document's schema knows has a field, and a section to enter it in. */
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import type { DocumentGrammar } from '../../contract.ts';
import { at, isMapping, type Mapping, mapping, text } from '../boat/document.ts';
import { sectionOf } from '../boat/sections.ts';
import { choicesFor, choiceWords, pointerAt } from './choices.ts';
import { documentFields, type Field } from './forms.ts';

const file = new URL('../../testing/grammar.json', import.meta.url);
const grammar: DocumentGrammar = JSON.parse(readFileSync(file, 'utf8'));
const { document_schema: schema } = grammar;

/** Nothing to enter: fixed by the grammar, or not there yet. */
const FIXED = /^(format|hull\.kind|hull\.appendages\.\*\.top|launch)$|(existing|parts)\.\*\.kind$/;

/** What is assumed follows from what is entered. */
const FOLLOWS = /^assumed\.\*$/;

/** Paths of all values, `*` for a name or a number in a list; walked without the forms' reader. */
function leavesOf(node: Mapping, path: string, within: readonly string[]): readonly string[] {
  const name = text(node.$ref).replace('#/$defs/', '');
  if (name && within.includes(name)) return [];
  if (name) return leavesOf(mapping(at(schema, `$defs.${name}`)), path, [...within, name]);
  const below = belowIn(node, path);
  if (below.length === 0) return node.type === 'null' ? [] : [path.slice(1)];
  return below.flatMap(([where, inner]) => leavesOf(mapping(inner), where, within));
}

const all = (given: unknown): readonly unknown[] => (Array.isArray(given) ? given : []);

/** What a schema leads on to, each with its path. */
function belowIn(node: Mapping, path: string): readonly (readonly [string, unknown])[] {
  const kinds = [...all(node.anyOf), ...all(node.oneOf)];
  const named = Object.values(mapping(node.patternProperties));
  const entries = [...named, node.additionalProperties, node.items].filter(isMapping);
  return [
    ...kinds.map((kind) => [path, kind] as const),
    ...Object.entries(mapping(node.properties)).map(([k, v]) => [`${path}.${k}`, v] as const),
    ...entries.map((inner) => [`${path}.*`, inner] as const),
    ...all(node.prefixItems).map((inner, i) => [`${path}.${i}`, inner] as const),
  ];
}

/** Paths of all values the fields of a form enter, in the same words. */
function enteredBy(field: Field, path: string): readonly string[] {
  switch (field.kind) {
    case 'row':
      return field.fields.map((_, i) => `${path}.${i}`);
    case 'group':
      return field.fields.flatMap((one) => enteredBy(one, `${path}.${one.key}`));
    case 'list':
    case 'named':
      return enteredBy(field.item, `${path}.*`);
    case 'variant':
      return field.variants.flatMap((one) => enteredBy(one, path));
    case 'paths':
      return [`${path}.*`];
    default:
      return [path];
  }
}

test('every value of the schema has a field, and every field a value', () => {
  const leaves = new Set(leavesOf(schema, '', []).filter((path) => !FIXED.test(path)));
  const entered = new Set(documentFields(schema).flatMap((one) => enteredBy(one, one.key)));
  assert.ok(leaves.size > 500);
  assert.deepEqual(
    [...leaves].filter((path) => !entered.has(path)),
    [],
  );
  assert.deepEqual(
    [...entered].filter((path) => !leaves.has(path)),
    [],
  );
});

test('every value of the schema is entered in a section of the Boat page', () => {
  const leaves = leavesOf(schema, '', []).filter((path) => !FIXED.test(path));
  assert.deepEqual(
    leaves.filter((path) => sectionOf(path) === undefined && !FOLLOWS.test(path)),
    [],
  );
});

test('every key of the schema says what it is', () => {
  const groups: readonly Mapping[] = [schema, ...Object.values(mapping(schema.$defs)).map(mapping)];
  const silent = groups.flatMap((group) =>
    Object.entries(mapping(group.properties)).flatMap(([key, property]) =>
      text(mapping(property).description) || key === 'kind' ? [] : [`${text(group.title)}.${key}`],
    ),
  );
  assert.deepEqual(silent, []);
});

/** Texts that are the owner's own words, or the names of things outside the document. */
const OWN_WORDS =
  /(^|\.)(note|name|file|from|assumed\.\*|titles\.\*|layers\.\*|material|propulsion\.(old|new))$/;

test('a text that names something in the document is a choice from it', () => {
  const free = documentFields(schema)
    .flatMap((one) => textsOf(one, one.key))
    .filter((path) => !OWN_WORDS.test(path) && !pointerAt(grammar, path));
  assert.deepEqual([...new Set(free)], []);
});

/** Paths of all free texts of a form. */
function textsOf(field: Field, path: string): readonly string[] {
  switch (field.kind) {
    case 'text':
      return [path];
    case 'group':
      return field.fields.flatMap((one) => textsOf(one, `${path}.${one.key}`));
    case 'list':
    case 'named':
      return textsOf(field.item, `${path}.*`);
    case 'variant':
      return field.variants.flatMap((one) => textsOf(one, path));
    default:
      return [];
  }
}

test('lines of the hull and heights of parts are offered, under an option its own too', () => {
  const house = { kind: 'deckhouse', side_height_m: 0.5, x_aft_m: 6 };
  const low = { kind: 'deckhouse', side_height_forward_m: 0.4, side_height_aft_m: 0.5 };
  const boat = {
    hull: { lines: { centreline: {}, chine: {}, sheer: {} } },
    existing: { well: { kind: 'cockpit', deck_z_m: 1.1 } },
    changes: { deckhouse: { parts: { house } } },
    options: { low: { adds: { cabin: { parts: { low } } } } },
  };
  const offered = (path: string) => {
    const pointer = pointerAt(grammar, path);
    return pointer ? choicesFor(pointer, path, boat) : [];
  };
  assert.deepEqual(offered('changes.bottom.parts.plate.lower_line'), [
    'centreline',
    'chine',
    'sheer',
  ]);
  const tie = 'changes.deckhouse.parts.house.side_height_m';
  assert.deepEqual(offered('openings.hatch.rises_with.path'), [tie, 'existing.well.deck_z_m']);
  assert.deepEqual(offered('options.low.adds.cabin.moves.rig.rises_with.path'), [
    tie,
    'changes.cabin.parts.low.side_height_forward_m',
    'changes.cabin.parts.low.side_height_aft_m',
    'existing.well.deck_z_m',
  ]);
  assert.deepEqual(offered('options.low.adds.cabin.removes.roof.replaced_by'), ['low']);
  assert.equal(choiceWords(tie), 'house (deckhouse), side height');
  assert.equal(choiceWords('existing.well.deck_z_m'), 'existing well, deck z');
});
