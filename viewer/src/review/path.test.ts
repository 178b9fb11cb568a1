import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ShareCard } from '../contract.ts';
import type { ReviewState } from '../session/review-store.ts';
import { commentOf, listedRevisionOf, reviewOf } from '../testing/review.ts';
import { pathOf, type ReviewContext, usualLabel } from './path.ts';

const NOW = Date.parse('2026-12-01T12:00:00Z');
const context = (more: Partial<ReviewContext> = {}): ReviewContext => ({
  role: 'owner',
  edit: 7,
  standing: 'unsigned',
  isSigned: false,
  now: NOW,
  ...more,
});
const state = (more: Partial<ReviewState> = {}): ReviewState => ({
  review: reviewOf(),
  revisions: [],
  shares: [],
  attachments: [],
  trouble: '',
  ...more,
});
const share = (more: Partial<ShareCard> = {}): ShareCard => ({
  id: '',
  label: 'Mr Brook',
  revisions: [1],
  reviewer: '',
  made_at: '',
  expires_at: '2026-12-30T12:00:00Z',
  revoked_at: null,
  last_used_at: null,
  ...more,
});
const frozen = (edit: number) => [
  listedRevisionOf({ number: 1, edit, made_at: '2026-12-01T09:00:00Z' }),
];
const states = (given: ReviewState, by = context()) =>
  Object.fromEntries(pathOf(given, by).steps.map((step) => [step.id, step.state]));

test('the next step of an owner: freeze, send, answer, sign', () => {
  const next = (given: ReviewState, by = context()) => pathOf(given, by).next;
  assert.equal(next(state()), 'freeze');
  assert.equal(next(state({ revisions: frozen(7) })), 'send');
  assert.equal(next(state({ revisions: frozen(5), shares: [share()] })), 'freeze');
  const sent = state({ revisions: frozen(7), shares: [share()] });
  assert.equal(next(sent), 'sign');
  const asked = { ...sent, review: reviewOf({ comments: [commentOf()] }) };
  assert.equal(next(asked), 'answer');
  assert.equal(next(asked, context({ isSigned: true })), 'answer');
  assert.equal(next(sent, context({ isSigned: true })), undefined);
  assert.equal(next(asked, context({ role: 'reviewer' })), 'sign');
});

test('a link that was revoked, has ended or opens another revision sends nothing', () => {
  for (const shut of [
    share({ revoked_at: '2026-12-01T10:00:00Z' }),
    share({ expires_at: '2026-11-30T12:00:00Z' }),
    share({ revisions: [2] }),
  ]) {
    const given = state({ revisions: frozen(7), shares: [shut] });
    assert.equal(pathOf(given, context()).next, 'send');
    assert.equal(states(given).send, 'no open link to revision 1');
  }
});

test('every step says where it stands', () => {
  assert.deepEqual(states(state()), {
    freeze: 'nothing frozen yet',
    send: 'nothing to send yet',
    answer: 'no comments yet',
    sign: 'unsigned',
  });
  const given = state({
    revisions: frozen(4),
    shares: [share({ reviewer: 'T. Brook' })],
    review: reviewOf({ comments: [commentOf(), commentOf({ state: 'closed' })] }),
  });
  const steps = states(given, context({ standing: 'stale' }));
  assert.match(steps.freeze ?? '', /^revision 1, 1 Dec 2026.*; 3 edits since$/);
  assert.equal(steps.send, 'opened by T. Brook');
  assert.equal(steps.answer, '1 open, 1 closed');
  assert.equal(steps.sign, 'stale');
});

test('a link is for whoever had the last one', () => {
  assert.equal(usualLabel([]), 'the consultant');
  assert.equal(usualLabel([share({ label: 'Ann' }), share()]), 'Mr Brook');
});
