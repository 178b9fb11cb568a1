import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ItemResult } from '../contract.ts';
import { itemOf, partOf } from '../testing/answers.ts';
import { beamWeightsOf, stacked, tilt } from './beam-weights.ts';

const item = (
  path: string,
  role: ItemResult['role'],
  mass_kg: number,
  x: number,
  to?: number,
): ItemResult =>
  itemOf({
    path,
    change: 'c',
    role,
    mass_kg,
    at_m: [x, 0, 0],
    to_m: to === undefined ? null : [to, 0, 0],
  });
const parts = [partOf({ id: 'house', change: 'c', mass_kg: 100, mass_counted_kg: 104 })];
const items = [
  item('changes.c.parts.house', 'part', 100, 5),
  item('changes.c.parts.house.paint', 'allowance', 4, 5),
  item('changes.c.removes.old-house', 'removed', 80, 5),
  item('changes.c.moves.chain', 'moved', 50, 1, 3),
  item('changes.c.moves.rig', 'moved', 200, 4, 4),
];

test('new weights stand, removed ones hang, a move does both, a lift does neither', () => {
  const weights = beamWeightsOf({ items, parts });
  assert.deepEqual(
    weights.map((c) => [c.label, c.kg, c.x_m, c.stands]),
    [
      ['house', 104, 5, true],
      ['old house', 80, 5, false],
      ['chain', 50, 1, false],
      ['chain', 50, 3, true],
    ],
  );
});

test('weights have areas as their masses and never overlap', () => {
  const weights = ['a', 'b', 'c'].map((k, i) => ({
    key: k,
    path: k,
    change: 'c',
    label: k,
    kg: [400, 100, 100][i] ?? 0,
    x_m: 5 + i * 0.1,
    stands: true,
    moved: false,
  }));
  const placed = stacked(weights, (m) => m * 50, 40);
  assert.deepEqual(
    placed.map((p) => p.size),
    [40, 20, 20],
  );
  assert.deepEqual(
    placed.map((p) => p.near),
    [0, 40, 60],
  );
});

test('the beam dips where the boat does, and not without bound', () => {
  assert.equal(tilt(0.25, 10), 2.5);
  assert.equal(tilt(-20, 10), -4);
});
