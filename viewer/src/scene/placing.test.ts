import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Vector3 } from 'three';
import { heightAt, type Level, seenAcross } from '../shared/boat/level.ts';
import { toTheLevel, turningReach } from './placing.ts';

const level: Level = { heel: 40, trim: 2, offset: 0.12 };
const placed = ([x, y, z]: readonly [number, number, number]) =>
  new Vector3(x, z, -y).applyMatrix4(toTheLevel(level, 10));

test('she is moved, never bent: the water becomes Y = 0, starboard stays on her right', () => {
  assert.ok(Math.abs(toTheLevel(level, 10).determinant() - 1) < 1e-12);
  for (const point of [
    [0, 0, 0],
    [7, 1.2, 0.9],
    [3, -1, -0.4],
  ] as const) {
    assert.ok(Math.abs(placed(point).y - heightAt(level, point)) < 1e-12);
    assert.ok(Math.abs(placed(point).z + seenAcross(level, point)) < 1e-12);
  }
});

test('the middle of her waterline keeps its place along', () => {
  assert.ok(Math.abs(placed([5, 0, 0]).x - 5) < 1e-12);
});

test('what turns with her stays within reach', () => {
  const rims = turningReach(
    [
      [0, 0, 3],
      [10, 4, 3],
    ],
    0.5,
  );
  assert.equal(Math.max(...rims.filter((_, i) => i % 3 === 1)), 5.5);
  assert.deepEqual([...new Set(rims.filter((_, i) => i % 3 === 0))], [0, 10]);
  assert.deepEqual(turningReach([], 0), []);
});
