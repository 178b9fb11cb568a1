import assert from 'node:assert/strict';
import { test } from 'node:test';
import { conditionOf, heldOf } from '../testing/answers.ts';
import { endOf, pressed } from './play.ts';
import { turnedBy } from './turning.ts';

const boat = (deg: number | null, last = 180) =>
  conditionOf({
    vanishing_angle_starboard_deg: deg,
    held: { starboard: heldOf([0, last]) },
  });

test('she is heeled to just past where her lever vanishes, and never further than she was held', () => {
  const of = (deg: number | null, last?: number) => endOf(boat(deg, last), 'starboard');
  assert.equal(of(123.9), 128);
  assert.equal(of(180), 178);
  assert.equal(of(123.9, 95), 95);
  assert.equal(of(0), 40);
  assert.equal(of(null), 40);
});

test('by presses she goes on in tens, to the end, and then stands upright', () => {
  assert.deepEqual(
    [0, 10, 13, 120, 128].map((heel) => pressed(heel, 128)),
    [10, 20, 20, 128, 0],
  );
});

test('a hand that goes clockwise heels her to starboard by as much', () => {
  assert.equal(turnedBy(0, [100, 0], [0, 100]), 90);
  assert.equal(turnedBy(10, [0, -100], [-100, 0]), -80);
  assert.equal(turnedBy(170, [100, 0], [0, 100]), 180);
  assert.equal(turnedBy(30, [2, 0], [0, 100]), 30);
  assert.equal(turnedBy(0, [-100, 5], [-100, -5]), 6);
});
