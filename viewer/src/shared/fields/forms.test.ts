import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ProblemOffer } from '../../contract.ts';
import { found } from '../../testing/answers.ts';
import { writeIn } from '../words/writing.ts';
import { beyondWords, misreadWords, shown, typed, unusual, withUnit } from './field-numbers.ts';
import {
  beginning,
  begunInstead,
  begunKind,
  blank,
  choiceGiven,
  filledIn,
  missingIn,
  offeredSteps,
  offeredWords,
} from './field-values.ts';
import { documentFields, fieldsOf, type NumberField } from './forms.ts';

const schema = {
  type: 'object',
  required: ['side_height_m', 'kind', 'corners_m'],
  properties: {
    kind: { const: 'deckhouse', type: 'string' },
    stand: { anyOf: [{ type: 'string' }, { type: 'null' }], default: null, title: 'Stand' },
    x_aft_m: { type: 'number', title: 'X aft' },
    deck_z_m: { type: 'number', title: 'Deck z' },
    side_height_m: {
      type: 'number',
      title: 'Side height',
      description: 'at mid-length',
      minimum: 0.05,
      maximum: 4,
      typical_minimum: 0.25,
      typical_maximum: 1,
      step: 0.01,
    },
    windows: { anyOf: [{ $ref: '#/$defs/Windows' }, { type: 'null' }], default: null },
    corners_m: {
      type: 'array',
      minItems: 3,
      items: {
        type: 'array',
        prefixItems: [{ type: 'number' }, { type: 'number' }, { type: 'number' }],
      },
    },
    mirrored: { type: 'boolean', default: false },
  },
  $defs: {
    Windows: {
      type: 'object',
      required: ['count', 'flat_mm'],
      properties: {
        count: { type: 'integer', minimum: 1, maximum: 20 },
        flat_mm: {
          type: 'array',
          prefixItems: [
            {
              type: 'number',
              title: 'depth',
              typical_minimum: 30,
              typical_maximum: 100,
              step: 5,
            },
          ],
        },
        note: { anyOf: [{ type: 'string' }, { type: 'null' }], default: null },
      },
    },
  },
};
const fields = fieldsOf(schema);
const field = (key: string) => found(fields.find((f) => f.key === key));
const numbers = fields.filter((f) => f.kind === 'number');
const height: NumberField = found(numbers.find((f) => f.key === 'side_height_m'));

test('every property but the fixed one has a field of its kind', () => {
  assert.deepEqual(
    fields.map((f) => [f.key, f.kind, f.optional]),
    [
      ['stand', 'text', true],
      ['x_aft_m', 'number', false],
      ['deck_z_m', 'number', false],
      ['side_height_m', 'number', false],
      ['windows', 'group', true],
      ['corners_m', 'list', false],
      ['mirrored', 'switch', false],
    ],
  );
});

test('labels are words, lower case', () => {
  assert.equal(height.label, 'side height');
  assert.equal(field('x_aft_m').label, 'after end');
  assert.equal(field('deck_z_m').label, 'deck height');
});

test('hard limits, slider and unit come from the schema', () => {
  assert.deepEqual(
    [height.least, height.most, height.low, height.high, height.step],
    [0.05, 4, 0.25, 1, 0.01],
  );
  assert.equal(withUnit(height, 0.58), '580 mm');
  assert.equal(shown(height, 0.5825), '582.5');
  assert.equal(shown(height, 0.0055), '5.5');
  assert.equal(shown(height, 0.60012345), '600.12345');
  assert.equal(shown(height, -0.1 - 0.2), '−300');
  assert.equal(shown(height, 0.58), '580');
  assert.equal(shown(height, 0.57), '570');
  assert.equal(shown(height, found(typed(height, '99999999999999'))), '99999999999999');
});

test('typed entries are read with comma, unit or a true minus, and nothing else', () => {
  assert.equal(typed(height, '580'), 0.58);
  assert.equal(typed(height, '580,5 mm'), 0.5805);
  assert.equal(typed(height, '−20'), -0.02);
  assert.equal(typed(height, 'tall'), undefined);
  assert.equal(typed(height, ''), undefined);
  assert.equal(typed(height, '1e9'), undefined);
  assert.equal(typed(height, '9'.repeat(400)), undefined);
});

test('another unit is turned into the own one, or refused', () => {
  assert.equal(typed(height, '0.58 m'), 0.58);
  assert.equal(typed(height, '58cm'), 0.58);
  assert.equal(typed(height, '580 kg'), undefined);
  const whole = { ...height, unit: '', factor: 1, whole: true };
  assert.equal(typed(whole, '5'), 5);
  assert.equal(typed(whole, '5,5'), undefined);
  assert.match(misreadWords(whole), /^type a whole number, digits, .*; Escape/);
  assert.match(misreadWords(height), /^type a number in mm, digits, no comma .*; Escape/);
});

test('beyond a limit is said in the words and the unit of the page', () => {
  assert.equal(beyondWords(height, 0.0055), 'side height is 5.5 mm: it must be at least 50 mm.');
  assert.match(beyondWords(height, 40), /is 40000 mm: it must be at most 4000 mm/);
  assert.equal(beyondWords(height, 0.58), '');
});

test('unusual is said, usual is not', () => {
  assert.equal(unusual(height, 0.58), '');
  assert.equal(unusual(height, 1.4), 'outside the usual 250 to 1000 mm: check it');
});

test('what is put in begins complete and without its own optional entries', () => {
  assert.deepEqual(beginning(field('windows')), { count: 11, flat_mm: [65] });
  const corners = beginning(field('corners_m'));
  assert.equal(Array.isArray(corners) && corners.length, 3);
});

test('what has a form of its own on another page says so', () => {
  const windows = { ...schema.properties.windows, entered_on: 'cutting' };
  const [field] = fieldsOf({ ...schema, properties: { windows } });
  assert.equal(field?.enteredOn, 'cutting');
  const [plain] = fieldsOf({ ...schema, properties: { windows: schema.properties.windows } });
  assert.equal(plain?.enteredOn, '');
});

const metres = { type: 'number', minimum: 0, maximum: 9 };
const FORM = {
  path: 'changes.a.parts.house',
  fields: fieldsOf({
    required: ['side_height_m', 'seat_well_m'],
    properties: {
      side_height_m: metres,
      seat_well_m: {
        type: 'array',
        prefixItems: [
          { ...metres, title: 'length' },
          { ...metres, title: 'width' },
        ],
      },
      side_windows: {
        anyOf: [{ type: 'object', properties: { count: { type: 'integer' } } }, { type: 'null' }],
      },
      upper_line: { type: 'string' },
    },
  }),
};
const SIDE = `${FORM.path}.side_height_m`;
const WELL = `${FORM.path}.seat_well_m`;
const offered = (...values: ProblemOffer['values']): ProblemOffer => ({
  sentence: 'It works.',
  values,
});

test('an offer at its own field is a value with its unit', () => {
  const offer = offered({ path: SIDE, value: 0.62 });
  assert.equal(offeredWords(FORM, offer, SIDE, 0.05), '620 mm');
});

test('an offer for another field is named', () => {
  const offer = offered({ path: SIDE, value: 0.62 });
  assert.equal(offeredWords(FORM, offer, WELL, [1, 2]), 'side height 620 mm');
});

test('of a row what differs is said', () => {
  const offer = offered({ path: WELL, value: [2.4, 1.6] });
  assert.equal(offeredWords(FORM, offer, WELL, [2.4, 3.9]), 'width 1600 mm');
});

test('two values, a text, and something taken out have their words', () => {
  const two = offered(
    { path: SIDE, value: 0.5 },
    { path: `${FORM.path}.side_windows`, value: null },
  );
  assert.equal(offeredWords(FORM, two, SIDE, 0.1), 'side height 500 mm and no side windows');
  const line = offered({ path: `${FORM.path}.upper_line`, value: 'sheer' });
  assert.equal(offeredWords(FORM, line, SIDE, 0.1), 'upper line sheer');
});

test('many values together are the proposed dimensions', () => {
  const values = ['a', 'b', 'c'].map((key) => ({ path: `${FORM.path}.${key}`, value: 1 }));
  assert.equal(offeredWords(FORM, offered(...values), SIDE, 0.1), 'the proposed dimensions');
});

test('what the form does not know is said as the server says it', () => {
  const offer = offered({ path: 'changes.a.parts.mast.x_m', value: 4 });
  assert.equal(offeredWords(FORM, offer, SIDE, 0.1), 'It works.');
});

test('an offer for another field keeps what was typed', () => {
  const steps = offeredSteps(offered({ path: SIDE, value: 0.62 }), WELL, [1, 2]);
  assert.deepEqual(steps, [
    { op: 'set', path: WELL, value: [1, 2] },
    { op: 'set', path: SIDE, value: 0.62 },
  ]);
});

test('an offer for the field, or for the group it is in, takes its place', () => {
  assert.equal(offeredSteps(offered({ path: SIDE, value: 0.62 }), SIDE, 0.05).length, 1);
  const group = offered({ path: `${FORM.path}.side_windows`, value: null });
  assert.deepEqual(offeredSteps(group, `${FORM.path}.side_windows.count`, 9), [
    { op: 'remove', path: `${FORM.path}.side_windows` },
  ]);
});

test('in feet and inches a field shows sixteenths, reads either system and keeps its own unit', () => {
  writeIn({ units: 'feet and inches', decimal: ',' });
  try {
    const metres = { ...height, unit: 'm', factor: 1 };
    assert.equal(shown(metres, 1.787525), '5′ 10 3/8″');
    assert.equal(withUnit(metres, 1.787525), '5′ 10 3/8″');
    assert.equal(typed(metres, "5' 10 3/8"), 1.787525);
    assert.equal(typed(metres, '178 cm'), 1.78);
    assert.equal(shown(height, 0.58), '22 13/16');
    assert.equal(withUnit(height, 0.58), '22 13/16 in');
    assert.equal(typed(height, '22 13/16'), 0.5794375);
    assert.equal(typed(height, '580 mm'), 0.58);
    assert.equal(typed(height, '22,5'), 0.5715);
    const mass = { ...height, unit: 'kg', factor: 1 };
    assert.equal(shown(mass, 22.5), '49,604');
    assert.equal(typed(mass, '400 lb'), 181.436948);
    assert.equal(typed(mass, '1.200'), undefined);
  } finally {
    writeIn({ units: 'metric', decimal: '.' });
  }
});

test('of what excludes each other the one that is given whole is shown', () => {
  const choice = [['outline_m', 'z_m'], ['at_m'], ['x_m', 'z_m']];
  assert.deepEqual(choiceGiven(choice, { x_m: [1, 2], z_m: [0, 1] }), ['x_m', 'z_m']);
  assert.deepEqual(choiceGiven(choice, { z_m: [0, 1] }), ['outline_m', 'z_m']);
  assert.deepEqual(choiceGiven(choice, {}), ['outline_m', 'z_m']);
});

test('a value of several kinds begins as an empty one that is still to be filled in', () => {
  const [margin] = documentFields({
    properties: {
      margin_m: {
        anyOf: [{ type: 'number' }, { type: 'array', items: { type: 'number' } }, { type: 'null' }],
        default: null,
      },
    },
  });
  assert(margin?.kind === 'variant');
  const [number] = margin.variants;
  assert(number?.kind === 'number');
  for (const begun of [blank(margin), begunKind(number)]) {
    assert.notEqual(begun, undefined);
    assert.deepEqual(missingIn(margin, begun), ['margin']);
  }
});

test('of names to be ticked none is ticked at first, of a table a row waits', () => {
  const list = (items: object) =>
    fieldsOf({ properties: { floods: { type: 'array', items } } }).map(blank);
  assert.deepEqual(list({ type: 'string' }), [[]]);
  assert.deepEqual(list({ type: 'number' }), [[undefined]]);
});

test('what is turned to in place of another is what is then given, empty as it is', () => {
  const choice = [['contents'], ['density_kg_m3']];
  const [tank] = documentFields({
    properties: {
      tank: {
        type: 'object',
        one_of: [choice],
        properties: { contents: { enum: ['fresh', 'salt'] }, density_kg_m3: { type: 'number' } },
      },
    },
  });
  assert(tank?.kind === 'group');
  const begun = { contents: 'salt', ...begunInstead(tank, choice, ['density_kg_m3']) };
  assert.deepEqual(choiceGiven(choice, begun), ['density_kg_m3']);
  assert.deepEqual(missingIn(tank, filledIn(begun)), ['density']);
});
