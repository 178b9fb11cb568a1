import assert from 'node:assert/strict';
import { test } from 'node:test';
import { markMoved, marksIn, withMark } from './marks.ts';

const stem = { id: 'stem-head', at_px: [10, 20] } as const;
const aft = { id: 'transom-port', at_px: [90, 30] } as const;

test('a mark is set, moved in its place, and taken off', () => {
  assert.deepEqual(withMark([stem], 'transom-port', [90, 30]), [stem, aft]);
  assert.deepEqual(withMark([stem, aft], 'stem-head', [11, 20]), [
    { id: 'stem-head', at_px: [11, 20] },
    aft,
  ]);
  assert.deepEqual(withMark([stem, aft], 'stem-head', undefined), [aft]);
});

test('arrow keys move a mark by a pixel, with Shift by ten', () => {
  assert.deepEqual(markMoved([5, 5], 'ArrowLeft', false), [4, 5]);
  assert.deepEqual(markMoved([5, 5], 'ArrowDown', true), [5, 15]);
  assert.equal(markMoved([5, 5], 'a', false), undefined);
});

test('of what was kept only marks are taken', () => {
  assert.deepEqual(marksIn([stem, { id: 3, at_px: [1, 2] }, null, { id: 'x', at_px: [1] }]), [
    stem,
  ]);
  assert.deepEqual(marksIn('nonsense'), []);
});
