import assert from 'node:assert/strict';
import { test } from 'node:test';
import { found, openingOf } from '../../testing/answers.ts';
import { openingsNow, reachOf, seen, strandsOf } from './heeled.ts';
import type { Level } from './level.ts';

const along = (id: string, kind: string, y: number, z: number) => ({
  [id]: {
    kind,
    points_m: [
      [0, y, z],
      [10, y, z],
    ],
  },
});
const house = {
  kind: 'deckhouse',
  x_forward_m: 3,
  x_aft_m: 7,
  roof_half_breadth_forward_m: 0.8,
  roof_half_breadth_aft_m: 1,
  side_height_m: 0.5,
  tumblehome_deg: 45,
  roof_camber_m: 0.1,
};
const document = {
  hull: {
    length_waterline_m: 10,
    lines: {
      ...along('keel', 'fair', 0, -1),
      ...along('chine', 'chine', 1.5, -0.5),
      ...along('sheer', 'sheer', 2, 1),
    },
    deck: { camber_m: 0.08, at_half_breadth_m: 2 },
  },
  existing: { old: house },
  changes: { deckhouse: { parts: { house, post: { kind: 'mast_support' } } } },
};
const at = (heel: number, offset = 0): Level => ({ heel, trim: 0, offset });

test('only houses that stand are drawn, from the deck over the roof', () => {
  const strands = strandsOf(document, [], new Set(['house']));
  const houses = strands.filter((s) => s.kind === 'house');
  assert.equal(houses.length, 1);
  const [foot, edge] = found(houses[0]).points;
  assert.ok(Math.abs(found(foot)[1] - 1.4) < 1e-12);
  assert.ok(Math.abs(found(foot)[2] - (1 + 0.08 * (1 - 0.49))) < 1e-12);
  assert.ok(Math.abs(found(edge)[2] - found(foot)[2] - 0.5) < 1e-12);
  const crown = Math.max(...found(houses[0]).points.map((p) => p[2]));
  assert.ok(Math.abs(crown - found(edge)[2] - 0.1) < 1e-12);
  assert.equal(
    strandsOf(document, [], new Set()).some((s) => s.kind === 'house'),
    false,
  );
});

test('the midship section has both sides', () => {
  const midship = found(strandsOf(document, [], new Set()).find((s) => s.kind === 'midship'));
  assert.equal(found(midship.points[0])[0], 5);
  assert.deepEqual(
    midship.points.map((p) => p[1] + 0),
    [-2, -1.5, 0, 0, 1.5, 2],
  );
});

test('heeled to starboard her starboard side is lower, and starboard is to the right', () => {
  const [across, height] = seen(at(30), [5, 2, 1]);
  const [other, otherHeight] = seen(at(30), [5, -2, 1]);
  assert.ok(across > other && height < otherHeight);
});

test('whatever the heel, everything drawn has room', () => {
  const strands = strandsOf(document, [], new Set());
  const { across, over, under } = reachOf(strands, [at(0), at(90), at(180, -0.5)]);
  assert.ok(Math.abs(across - 2) < 1e-9);
  assert.ok(Math.abs(over - 2) < 1e-9);
  assert.ok(Math.abs(under - 2) < 1e-9);
});

test('the deepest opening comes first', () => {
  const opening = (id: string, z: number) => openingOf({ id, edge_m: [[5, 0, z]] });
  const now = openingsNow([opening('high', 2), opening('low', -0.2)], at(0));
  assert.deepEqual(
    now.map((o) => [o.opening.id, o.under]),
    [
      ['low', true],
      ['high', false],
    ],
  );
});
