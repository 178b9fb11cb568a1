import assert from 'node:assert/strict';
import { test } from 'node:test';
import { conditionOf, found, heldOf, openingOf } from '../../testing/answers.ts';
import { centresOf, filledWords, heldAt, levelsOf, toSide } from './levers.ts';

const [hatch, vent] = [openingOf({ id: 'hatch' }), openingOf({ id: 'vent' })];
const boat = conditionOf({
  id: 'departure',
  stage: 'refit',
  openings: [hatch, vent],
  held: {
    port: heldOf([0, -1], { gz_m: [0.004, 0.02] }),
    // she steps at one degree: the side towards upright comes first
    starboard: heldOf([0, 1, 1], {
      gz_m: [-0.004, 0.01, 0.005],
      trim_deg: [0, 0.5, 0.6],
      water_offset_m: [0.1, 0.2, 0.3],
      openings_under: [[], [1], [1, 0]],
      next_opening: [0, 0, null],
      next_opening_m: [0.7, 0.6, null],
    }),
  },
});

test('a heel is looked up on its own side, at a step on the side towards upright', () => {
  assert.equal(heldAt(boat, 0)?.gz, -0.004);
  assert.equal(heldAt(boat, -1)?.gz, 0.02);
  const held = found(heldAt(boat, 1));
  assert.deepEqual([held.gz, held.trim, held.offset], [0.01, 0.5, 0.2]);
  assert.equal(held.path('gz_m'), 'conditions.departure.refit.held.starboard.gz_m.1');
});

test('beyond the heel at which she tips end over end there is nothing', () => {
  assert.equal(heldAt(boat, 2), undefined);
  assert.equal(heldAt(conditionOf(), 0), undefined);
});

test('openings come by their place in the list', () => {
  const held = found(heldAt(boat, 1));
  assert.deepEqual(held.under, [vent]);
  assert.deepEqual(held.next, { opening: hatch, height: 0.6 });
});

test('wells are told of where they are full', () => {
  assert.equal(filledWords(found(heldAt(boat, 0))), '');
  const wet = { gz_wells_full_m: [0.123], water_in_wells_kg: [640] };
  const full = conditionOf({ held: { starboard: heldOf([0], wet) } });
  assert.equal(filledWords(found(heldAt(full, 0))), '0.123 m with 640 kg in them');
});

test('every heel of both sides is drawn', () => {
  assert.deepEqual(
    levelsOf(boat).map((level) => level.heel),
    [0, -1, 0, 1, 1],
  );
});

test('an angle has the sign of its side', () => {
  assert.equal(toSide(30, 'port'), -30);
  assert.equal(toSide(30, 'starboard'), 30);
});

test('between two degrees she is drawn between them, and told as the nearer', () => {
  const held = found(heldAt(boat, 0.75));
  assert.deepEqual([held.heel, held.trim], [0.75, 0.375]);
  assert.ok(Math.abs(held.gz - 0.0065) < 1e-9);
  assert.deepEqual(held.under, [vent]);
  // from port, upright rights as port does
  assert.ok(Math.abs(found(heldAt(boat, -0.5)).gz - 0.012) < 1e-9);
  assert.equal(heldAt(boat, 1.5), undefined);
});

test('weight and buoyancy are known together or not at all', () => {
  assert.equal(centresOf(found(heldAt(boat, 0))), undefined);
  const centres = { gravity_across_m: [0.1], gravity_above_sea_m: [0.2] };
  const drawn = { ...centres, buoyancy_across_m: [0.5], buoyancy_above_sea_m: [-0.4] };
  const whole = conditionOf({ held: { starboard: heldOf([0], drawn) } });
  assert.deepEqual(centresOf(found(heldAt(whole, 0))), {
    gravity: [0.1, 0.2],
    buoyancy: [0.5, -0.4],
  });
});
