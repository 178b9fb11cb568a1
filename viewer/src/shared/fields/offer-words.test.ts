import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ProblemOffer } from '../../contract.ts';
import { fieldsOf } from './forms.ts';
import { offeredSteps, offeredWords } from './offer-words.ts';

const number = { type: 'number', minimum: 0, maximum: 9 };
const FORM = {
  path: 'changes.a.parts.house',
  fields: fieldsOf({
    required: ['side_height_m', 'seat_well_m'],
    properties: {
      side_height_m: number,
      seat_well_m: {
        type: 'array',
        prefixItems: [
          { ...number, title: 'length' },
          { ...number, title: 'width' },
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
