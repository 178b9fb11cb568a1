import assert from 'node:assert/strict';
import { test } from 'node:test';
import { distanceTo } from './nearest.ts';

// two right triangles: one level at the origin, one 5 m farther aft
const level = [0, 0, 0, 1, 0, 0, 0, 1, 0];
const both = [...level, 5, 0, 0, 6, 0, 0, 5, 1, 0];

test('a point over a triangle is as far as it is high, beside it as far as its nearest edge', () => {
  assert.equal(distanceTo(level, [0.2, 0.2, 0.3]), 0.3);
  assert.equal(distanceTo(level, [-2, 0.5, 0]), 2);
  // 3-4-5 from the corner at (1, 0, 0)
  assert.equal(distanceTo(level, [4, -4, 0]), 5);
});

test('the nearest of several counts', () => {
  assert.equal(distanceTo(both, [5.2, 0.2, -0.1]), 0.1);
  assert.equal(distanceTo([], [0, 0, 0]), Infinity);
});
