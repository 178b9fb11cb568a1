import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Comment, PinOutput } from '../contract.ts';
import { pathWords } from '../shared/answer/path-words.ts';
import { commentOf, listedRevisionOf, reviewOf, signatureOf } from '../testing/review.ts';
import {
  concernsOf,
  lastReviewed,
  openAbout,
  pinOn,
  pinWords,
  standingOf,
  threadsOf,
  verdictsOn,
  whenWords,
} from './review.ts';

const pin = (on: Partial<PinOutput>): PinOutput => ({
  part: null,
  plate: null,
  path: null,
  point_m: null,
  ...on,
});
const comment = (on: Partial<PinOutput>, state: Comment['state'] = 'open') =>
  commentOf({ id: JSON.stringify(on), on: pin(on), state });
const review = reviewOf({
  comments: [
    comment({ part: 'house', plate: 'roof' }, 'closed'),
    comment({}),
    comment({ part: 'house' }),
    comment({ path: 'changes.deckhouse.adds.foam' }),
  ],
});
const signed = (revision: number, more: object = {}) =>
  signatureOf({ revision, part: null, verdict: 'agreed', ...more });
const listed = [1, 2, 3].map((number) =>
  listedRevisionOf({ number, standing: { ...reviewOf().standing, standing: 'signed' } }),
);

test('what a comment is about, in words', () => {
  assert.equal(pinWords(pin({})), 'The whole refit');
  assert.equal(pinWords(pin({ part: 'house', plate: 'house.roof-port' })), 'House, roof port');
  assert.equal(
    pinWords(pinOn({ piece: 'house', plate: 'house.roof', point: [4, -0.5, 1.25], within: 0 })),
    'House, roof, 4.00 m aft, 0.50 m to port, 1.25 m up',
  );
  assert.equal(pathWords('conditions.departure.gm_m'), 'GM upright, in condition departure');
  assert.equal(
    pathWords('conditions.half-tanks.as_found.freeboards.aft.port.freeboard_mm'),
    'Freeboard aft, port as found, in condition half tanks',
  );
  assert.equal(pathWords('conditions.survey-state'), 'As surveyed');
  assert.equal(pathWords('survey.vcg.z_m'), 'Survey: VCG, z');
  assert.equal(pathWords('changes.deckhouse.adds.foam'), 'Deckhouse, foam');
});

test('threads are numbered as they came and grouped by what they concern', () => {
  const concerns = concernsOf(threadsOf(review));
  assert.deepEqual(
    concerns.map((one) => [one.words, one.threads.map((thread) => thread.number)]),
    [
      ['The whole refit', [2]],
      ['House', [3, 1]],
      ['Deckhouse, foam', [4]],
    ],
  );
});

test('open comments of a change are those on it, below it, and on its parts', () => {
  const open = openAbout(threadsOf(review), 'changes.deckhouse', ['house']);
  assert.deepEqual(
    open.map((thread) => thread.number),
    [3, 4],
  );
});

test('of each reviewer the verdict that counts; one on the whole is not one on a part', () => {
  const signatures = [
    signed(1, { is_superseded: true }),
    signed(2, { part: 'house' }),
    signed(2, { author: 'A' }),
    signed(1, { author: 'B' }),
  ];
  const numbers = (part: string | null) => verdictsOn(signatures, part).map((s) => s.revision);
  assert.deepEqual(numbers(null), [2, 1]);
  assert.deepEqual(numbers('house'), [2]);
  assert.deepEqual(numbers('mast'), []);
});

test('when it was written, and when it arrived where that differs', () => {
  const written_at = '2026-11-20T09:00:00Z';
  assert.ok(!whenWords({ written_at, arrived_at: written_at }).includes('arrived'));
  assert.ok(!whenWords({ written_at, arrived_at: null }).includes('arrived'));
  const late = whenWords({ written_at, arrived_at: '2026-11-21T10:30:00Z' });
  assert.match(late, /^written 20 Nov 2026, .*, arrived 21 Nov 2026, /);
});

test('the last review is the latest earlier revision that was signed, else the one before', () => {
  assert.equal(lastReviewed(listed, [signed(1), signed(3)], 3), 1);
  assert.equal(lastReviewed(listed, [signed(1, { verdict: 'not-looked-at' })], 3), 2);
  assert.equal(lastReviewed(listed, [], undefined), 3);
  assert.equal(lastReviewed(listed, [], 1), undefined);
  assert.equal(standingOf(undefined, listed, 2)?.standing, 'signed');
  assert.equal(standingOf(undefined, listed, undefined), undefined);
});
