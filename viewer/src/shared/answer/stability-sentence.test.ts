import assert from 'node:assert/strict';
import { test } from 'node:test';
import { conditionOf, differenceOf, openingOf } from '../../testing/answers.ts';
import { doubtWords, groupOf } from './criteria-groups.ts';
import {
  floodsFirstWords,
  judgedWords,
  rightsWords,
  stabilitySentences,
} from './stability-sentence.ts';

const windows = openingOf({ id: 'side-windows', side: 'starboard', immersion_angle_deg: 67.7 });
const vent = openingOf({ id: 'vent', immersion_angle_deg: 77.7, stands_open: true });
const angles = (deg: number) => ({
  vanishing_angle_deg: deg,
  vanishing_angle_port_deg: deg,
  vanishing_angle_starboard_deg: deg,
});

test('an ordinary boat: how far she rights, where water comes in, her GM, what is open', () => {
  const now = conditionOf({
    ...angles(123.9),
    ...{ gm_m: 0.99, change: differenceOf({ gm_m: -0.04 }), openings: [vent, windows] },
    ...{ critical_opening: 'vent', critical_side: 'port', downflooding_angle_deg: 77.7 },
  });
  const judged = [
    ...['not_met', 'to_be_confirmed', 'met', 'met_within_doubt'].map((state) => ({
      state,
      value: 1,
    })),
    { state: 'not_met', value: 1, cockpit: true },
  ];
  assert.deepEqual(stabilitySentences(now, conditionOf(), judged), [
    'She rights herself up to 124°.',
    'Water can come in at 68° through the side windows, starboard, if left open; at 78° through the vent, port, which nothing closes.',
    'GM 0.99 m, 0.04 m less than as found.',
    '2 criteria missed (1 of the cockpit), 1 met within doubt, 1 to be confirmed, of 5.',
  ]);
  assert.equal(stabilitySentences(now, undefined, [])[2], 'GM 0.99 m.');
});

test('boats that do not stand, never right, or always do, are told as they are', () => {
  const worse = { ...angles(110), vanishing_angle_starboard_deg: 130 };
  const of = (more: Parameters<typeof conditionOf>[0]) => rightsWords(conditionOf(more));
  assert.equal(of(worse), 'She rights herself up to 110° to port, further to starboard.');
  assert.equal(of(angles(180)), 'She rights herself from every heel.');
  assert.equal(of(angles(0)), 'She does not right herself from any heel.');
  assert.match(of({ ...angles(90), upside_down: true }), /comes to rest upside down/);
  assert.match(
    of({ ...angles(110), gm_m: -0.05, heel_deg: 12 }),
    /^She lolls: upright she is unstable, and she rests 12\.0° to starboard\. She rights/,
  );
  assert.match(of({ ...angles(0), gm_m: -0.05 }), /^She does not stand upright/);
  assert.match(of({}), /not known/);
});

test('an angle that counts the deckhouse never stands without the one that does not', () => {
  const of = (all: number, vanishing_angle_without_house_deg: number | null) =>
    rightsWords(conditionOf({ ...angles(all), vanishing_angle_without_house_deg }));
  assert.equal(
    of(120, 111.8),
    'She rights herself up to 120°; without deckhouse buoyancy up to 112°.',
  );
  assert.match(of(180, 112), /every heel; without deckhouse buoyancy up to 112°\.$/);
  assert.match(of(120, 0), /without deckhouse buoyancy from no heel\.$/);
  for (const same of [120, 120.2, null])
    assert.equal(of(120, same), 'She rights herself up to 120°.');
});

test('no opening entered is no safety, and one that never closes is said to be so', () => {
  const of = (more: Parameters<typeof conditionOf>[0]) => floodsFirstWords(conditionOf(more));
  assert.match(of({}), /No openings are entered.*to be confirmed/);
  assert.equal(of({ openings: [openingOf()] }), 'No opening goes under at any heel.');
  assert.match(of({ openings: [vent] }), /at 78° through the vent, port, which nothing closes\.$/);
  assert.match(of({ openings: [windows] }), /if left open; no opening without a closing/);
});

test('a verdict is never better by its group', () => {
  const of = (state: string, value: number | null = 1) => groupOf({ state, value });
  assert.equal(of('met'), 'met');
  assert.equal(of('not_met_within_doubt'), 'within doubt');
  assert.equal(of('met_within_doubt'), 'within doubt');
  assert.equal(of('not met'), 'missed');
  assert.equal(of('to_be_confirmed', null), 'to be confirmed');
  assert.equal(of('a word of a later version'), 'to be confirmed');
  assert.match(judgedWords([]), /^No criterion is judged/);
  assert.equal(judgedWords([{ state: 'met', value: 1 }]), 'No criterion missed, of 1.');
  const inDoubt = ['not_met_within_doubt', 'met_within_doubt'].map((state) => ({
    state,
    value: 1,
  }));
  assert.equal(
    judgedWords(inDoubt),
    'No criterion clearly missed, 1 not met within doubt, 1 met within doubt, of 2.',
  );
  assert.equal(doubtWords(inDoubt), '1 not met, 1 met');
});
