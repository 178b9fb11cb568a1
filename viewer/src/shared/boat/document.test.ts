import assert from 'node:assert/strict';
import { test } from 'node:test';
import { at } from './document.ts';

const boat = {
  changes: { house: { parts: { house: { side_height_m: 0.58 } } } },
};

test('a path finds its value, or nothing', () => {
  assert.equal(at(boat, 'changes.house.parts.house.side_height_m'), 0.58);
  assert.equal(at(boat, 'changes.bow.parts'), undefined);
});
