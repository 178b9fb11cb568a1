import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ItemResult } from '../contract.ts';
import { cratesOf, momentAbout, stacked, tilt } from './crates.ts';

const item = (
  path: string,
  role: ItemResult['role'],
  mass_kg: number,
  x: number,
  to?: number,
): ItemResult => ({
  path,
  change: 'c',
  role,
  mass_kg,
  plus_minus_kg: 1,
  at_m: [x, 0, 0],
  to_m: to === undefined ? null : [to, 0, 0],
  provenance: 'drawn',
  replaced_by: null,
  may_lie_x_m: null,
  effect: null,
});
const ledger = [
  item('changes.c.parts.house', 'part', 100, 5),
  item('changes.c.parts.house.paint', 'allowance', 4, 5),
  item('changes.c.removes.old-house', 'removed', 80, 5),
  item('changes.c.moves.chain', 'moved', 50, 1, 3),
  item('changes.c.moves.rig', 'moved', 200, 4, 4),
];

test('new weights stand, removed ones hang, a move does both, a lift does neither', () => {
  const crates = cratesOf(ledger);
  assert.deepEqual(
    crates.map((c) => [c.label, c.kg, c.x_m, c.stands]),
    [
      ['house', 104, 5, true],
      ['old house', 80, 5, false],
      ['chain', 50, 1, false],
      ['chain', 50, 3, true],
    ],
  );
});

test('the moment is about the pivot, positive aft', () => {
  assert.equal(momentAbout(cratesOf(ledger), 5), 100);
  assert.equal(momentAbout(cratesOf(ledger), 4), 104 - 80 + 100);
});

test('crates have areas as their masses and never overlap', () => {
  const crates = ['a', 'b', 'c'].map((k, i) => ({
    key: k,
    path: k,
    change: 'c',
    label: k,
    kg: [400, 100, 100][i] ?? 0,
    x_m: 5 + i * 0.1,
    stands: true,
    moved: false,
  }));
  const placed = stacked(crates, (m) => m * 50, 40);
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
  assert.ok(tilt(40, 10, 10) > 0);
  assert.equal(tilt(-4000, 10, 10), -4);
});
