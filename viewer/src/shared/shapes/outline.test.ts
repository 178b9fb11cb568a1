import assert from 'node:assert/strict';
import { test } from 'node:test';
import { edgesBetween, outlineOf } from './outline.ts';

// a cube of 1 m, each face by itself as a drawing breaks it at its edges
const corner = (n: number) => [n & 1, (n >> 1) & 1, (n >> 2) & 1];
const faces = [
  [0, 2, 3, 1],
  [4, 5, 7, 6],
  [0, 1, 5, 4],
  [2, 6, 7, 3],
  [0, 4, 6, 2],
  [1, 3, 7, 5],
];
const positions = faces.flat().flatMap(corner);
const corners = faces.flatMap((_, i) => [0, 1, 2, 0, 2, 3].map((k) => 4 * i + k));

test('the outline of a cube seen from a corner has six edges, seen square four', () => {
  const edges = edgesBetween({ positions, corners });
  const length = (direction: readonly number[]) => outlineOf(edges, direction).length / 6;
  assert.equal(length([1, 0.9, 0.8]), 6);
  assert.equal(length([1, 0.01, 0.02]), 6);
  assert.equal(edges.ends.length / 6, 18); // twelve, and a diagonal on each face
});
