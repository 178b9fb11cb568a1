import assert from 'node:assert/strict';
import { test } from 'node:test';
import { freeName, markMoved, photographsIn } from './marks.ts';

const stem = { at_percent: [10, 20] };
const document = {
  photographs: { quay: { file: 'quay.jpg', width_px: 400, height_px: 300, marks: { stem } } },
};

test('what is being set is seen before it is answered', () => {
  const drafts = new Map([
    ['photographs.quay.marks.hatch', { value: { at_percent: [1, 2], place_m: [3, 0, 1] } }],
    ['photographs.quay.marks.stem', { value: { at_percent: [11, 20] } }],
    ['boat.name', { value: 'Dot' }],
  ]);
  assert.deepEqual(photographsIn(document, drafts)[0]?.marks, [
    { id: 'stem', at_percent: [11, 20] },
    { id: 'hatch', at_percent: [1, 2], place_m: [3, 0, 1] },
  ]);
  assert.deepEqual(photographsIn({}), []);
});

test('arrow keys move a mark by a pixel, with Shift by ten, and not out of the picture', () => {
  const size = { width: 400, height: 200 };
  assert.deepEqual(markMoved([5, 5], 'ArrowLeft', false, size), [4.75, 5]);
  assert.deepEqual(markMoved([5, 5], 'ArrowDown', true, size), [5, 10]);
  assert.deepEqual(markMoved([99.9, 5], 'ArrowRight', true, size), [100, 5]);
  assert.equal(markMoved([5, 5], 'a', false, size), undefined);
});

test('two pictures never have one name', () => {
  assert.equal(freeName('image.jpg', []), 'image.jpg');
  assert.equal(freeName('image.jpg', ['image.jpg', 'image 2.jpg']), 'image 3.jpg');
});
