import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { BodyCurve } from '../../contract.ts';
import { immersed, reachOf, seen, strandsOf } from './heeled.ts';
import type { Level } from './level.ts';

const at = (heel: number, offset = 0): Level => ({ heel, trim: 0, offset });
const body: readonly BodyCurve[] = [
  {
    role: 'midship',
    points_m: [
      [5, 0, -1],
      [5, 2, 1],
      [5, 0, 1],
    ],
    both_sides: true,
  },
  {
    role: 'sheer',
    points_m: [
      [0, 0.1, 1],
      [10, 2, 1],
    ],
    both_sides: true,
  },
];

test('both sides are drawn: a section as one outline, the midship above the rest', () => {
  const strands = strandsOf(body);
  assert.deepEqual(
    strands.map((s) => [s.kind, s.closed, s.points.length]),
    [
      ['sheer', false, 2],
      ['sheer', false, 2],
      ['midship', true, 6],
    ],
  );
  assert.deepEqual(
    strands.at(-1)?.points.map((p) => p[1] + 0),
    [0, 2, 0, 0, -2, 0],
  );
});

test('a single keel off the centreline is drawn on its own side, a pair on both', () => {
  const keel: BodyCurve = {
    role: 'keel',
    points_m: [
      [5, 0.8, -0.4],
      [5, 0.9, -1.2],
    ],
    both_sides: true,
  };
  const across = (one: BodyCurve) => strandsOf([one]).map((s) => s.points.map((p) => p[1]));
  assert.deepEqual(across({ ...keel, both_sides: false }), [[0.8, 0.9]]);
  assert.deepEqual(across(keel), [
    [0.8, 0.9],
    [-0.8, -0.9],
  ]);
});

test('heeled to starboard her starboard side is lower, and starboard is to the right', () => {
  const [across, height] = seen(at(30), [5, 2, 1]);
  const [other, otherHeight] = seen(at(30), [5, -2, 1]);
  assert.ok(across > other && height < otherHeight);
});

test('whatever the heel, everything drawn has room', () => {
  const { across, over, under } = reachOf(strandsOf(body), [at(0), at(90), at(180, -0.5)]);
  assert.ok(Math.abs(across - 2) < 1e-9 || across > 1.9);
  assert.ok(Math.abs(over - 2) < 1e-9);
  assert.ok(Math.abs(under - 2) < 1e-9);
});

test('of a section what lies under water is kept, with the water as its upper side', () => {
  const section = [
    [5, 0, -1],
    [5, 2, 1],
    [5, -2, 1],
  ] as const;
  assert.deepEqual(immersed(at(0), section), [
    [5, 0, -1],
    [5, 1, 0],
    [5, -1, 0],
  ]);
  assert.deepEqual(immersed(at(0, 2), section), section);
  assert.deepEqual(immersed(at(0, -2), section), []);
});
