import assert from 'node:assert/strict';
import { test } from 'node:test';
import { cut } from './cut.ts';

const level = (at: number) => (_x: number, y: number) => y - at;

test('a triangle is cut between its corners, in proportion', () => {
  const triangle = [0, 0, 0, 4, 0, 0, 0, 2, 0];
  assert.deepEqual(cut(triangle, [0, 1, 2], level(0.5)), [3, 0.5, 0, 0, 0.5, 0]);
});

test('a triangle above or below the plane leaves nothing', () => {
  const triangle = [0, 1, 0, 4, 1, 0, 0, 2, 0];
  assert.deepEqual(cut(triangle, [0, 1, 2], level(0.5)), []);
  assert.deepEqual(cut(triangle, [0, 1, 2], level(2.5)), []);
});

test('a closed surface gives closed runs: every end is met twice', () => {
  const corners = [0, 1, 2, 0, 2, 3, 0, 3, 1, 1, 3, 2];
  const tetrahedron = [0, 1, 0, 1, 0, 0, -1, 0, 1, -1, 0, -1];
  const ends = cut(tetrahedron, corners, (x, y) => y - 0.3 - 0.1 * x);
  const met = new Map<string, number>();
  for (let i = 0; i < ends.length; i += 3) {
    const key = ends
      .slice(i, i + 3)
      .map((v) => v.toFixed(9))
      .join();
    met.set(key, (met.get(key) ?? 0) + 1);
  }
  assert.deepEqual([...met.values()], [2, 2, 2]);
});
