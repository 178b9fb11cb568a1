import assert from 'node:assert/strict';
import { test } from 'node:test';
import { at, underOption, withValue } from './document.ts';

const boat = {
  changes: { house: { parts: { house: { side_height_m: 0.58 } } } },
  options: { low: { set: { 'changes.house.parts.house.side_height_m': 0.4 } } },
};

test('a path finds its value, or nothing', () => {
  assert.equal(at(boat, 'changes.house.parts.house.side_height_m'), 0.58);
  assert.equal(at(boat, 'changes.bow.parts'), undefined);
});

test('a value is put in place without changing the document', () => {
  const next = withValue(boat, 'changes.bow.stage', 'proposed');
  assert.equal(at(next, 'changes.bow.stage'), 'proposed');
  assert.equal(at(next, 'changes.house.parts.house.side_height_m'), 0.58);
  assert.equal(at(boat, 'changes.bow'), undefined);
});

test('an option is seen over the document', () => {
  assert.equal(at(underOption(boat, 'low'), 'changes.house.parts.house.side_height_m'), 0.4);
  assert.equal(underOption(boat, null), boat);
});
