import assert from 'node:assert/strict';
import { test } from 'node:test';
import { freeboardOf, itemOf, partOf, profileOf } from '../../testing/answers.ts';
import { distanceOf, namedPlaces, type Place, wayOf } from './distances.ts';
import type { Point } from './points.ts';

const at = (point: Point, step = 1): Place => ({ words: '', point, step });

test('a box of 3, 4 and 12 metres measures 13 across its corners', () => {
  assert.deepEqual(distanceOf(at([1, -1, 0]), at([4, 3, 12])), {
    straight: '13,000 mm',
    parts: '3,000 mm aft, 4,000 mm to starboard, 12,000 mm up',
    step: 1,
  });
});

test('the way back has the same length and the other words', () => {
  const { straight, parts } = distanceOf(at([4, 3, 12]), at([1, -1, 0]));
  assert.equal(straight, '13,000 mm');
  assert.equal(parts, '3,000 mm ahead, 4,000 mm to port, 12,000 mm down');
});

test('what does not differ has no side, also where only rounding leaves nothing', () => {
  const { straight, parts } = distanceOf(at([2, 0, 1]), at([2.5, 0, 0.9998]));
  assert.equal(straight, '500 mm');
  assert.equal(parts, '500 mm aft, 0 mm across, 0 mm up');
});

test('a distance is told as finely as its coarser end', () => {
  const { straight, parts, step } = distanceOf(at([0, 0, 0], 1), at([1.2345, 0, 0], 10));
  assert.equal(straight, '1,230 mm');
  assert.equal(parts, '1,230 mm aft, 0 mm across, 0 mm up');
  assert.equal(step, 10);
});

test('the way goes along, across and up, one after the other', () => {
  assert.deepEqual(wayOf([0, 0, 0], [1, 2, 3]), [
    [0, 0, 0],
    [1, 0, 0],
    [1, 2, 0],
    [1, 2, 3],
  ]);
});

test('marks stand on the sheer of their side, weights where they go, removed ones nowhere', () => {
  const places = namedPlaces({
    profile: profileOf({
      marks: [{ id: 'aft', x_m: 9, sheer_z_m: 1.1 }],
      length_waterline_m: 10,
    }),
    freeboards: [
      freeboardOf({ mark: 'aft', side: 'port', half_breadth_m: 1.5 }),
      freeboardOf({ mark: 'aft', side: 'starboard', half_breadth_m: 1.5 }),
    ],
    parts: [partOf({ id: 'house', centroid_m: [4, 0, 2] })],
    items: [
      itemOf({
        path: 'changes.a.moves.chain',
        change: 'a',
        role: 'moved',
        at_m: [1, 0, 0],
        to_m: [2, 0, 0],
      }),
      itemOf({
        path: 'changes.a.removes.tank',
        change: 'a',
        role: 'removed',
        at_m: [7, 0, 0],
        to_m: null,
      }),
    ],
  });
  assert.deepEqual(
    places.map(({ words, point }) => [words, point]),
    [
      ['Aft, port', [9, -1.5, 1.1]],
      ['Aft, starboard', [9, 1.5, 1.1]],
      ['Forward, at the waterline', [0, 0, 0]],
      ['After, at the waterline', [10, 0, 0]],
      ['House', [4, 0, 2]],
      ['Chain (a)', [2, 0, 0]],
    ],
  );
});
