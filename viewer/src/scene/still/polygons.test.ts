import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Vector3 } from 'three';
import { banded, outside, type Polygon } from './polygons.ts';

const square = [
  [0, 0],
  [4, 0],
  [4, 4],
  [0, 4],
].map(([x, y]) => new Vector3(x, y, 0));
const area = (polygon: Polygon) => {
  const sum = new Vector3();
  for (const [i, a] of polygon.entries())
    sum.add(a.clone().cross(polygon[(i + 1) % polygon.length] ?? a));
  return Math.abs(sum.z) / 2;
};

test('bands between heights share a face out, from below', () => {
  const bands = banded(square, (p) => p.y, [1, 3]);
  assert.deepEqual(
    bands.map(([polygon, band]) => [band, area(polygon)]),
    [
      [0, 4],
      [1, 8],
      [2, 4],
    ],
  );
});

test('what is left around an opening is all but the opening', () => {
  const sides = [
    (p: Vector3) => 1 - p.x,
    (p: Vector3) => p.x - 3,
    (p: Vector3) => 1 - p.y,
    (p: Vector3) => p.y - 2,
  ];
  const left = outside(square, sides);
  assert.equal(
    left.reduce((sum, one) => sum + area(one), 0),
    14,
  );
});
