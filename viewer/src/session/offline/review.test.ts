import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Review } from '../../contract.ts';
import { assessmentOf, found, workingOf } from '../../testing/answers.ts';
import { newCommentOf, newSignatureOf, reviewOf, signatureOf } from '../../testing/review.ts';
import { answerIn } from '../wire.ts';
import { answersFrom } from './answers.ts';
import type { OfflineCopy } from './copy.ts';
import { OfflineReview, type OwnStorage } from './review.ts';

const workingCopy = (document_sha256: string) =>
  workingOf({ refit: 'dot.yaml', assessment: assessmentOf({ boat: 'Dot', document_sha256 }) });
const copy: OfflineCopy = {
  refits: [],
  cautions: [],
  working: workingCopy('d0'),
  reviewed: null,
};

const drawerOf = (held = new Map<string, string>()): OwnStorage => ({
  getItem: (key) => held.get(key) ?? null,
  setItem: (key, text) => void held.set(key, text),
});
const nothing = () => undefined;
const comment = newCommentOf({
  id: 'c1',
  on: { part: 'house' },
  kind: 'defect',
  text: 'thin',
  author: 'Vi',
});
const signature = newSignatureOf({
  id: 's1',
  revision_sha256: 'd0',
  part: null,
  verdict: 'agreed',
  scope: 'all',
  conditions: [],
  author: 'Vi',
});

function asking(offline: OfflineReview) {
  const answer = answersFrom(copy, nothing, offline);
  return {
    post: (path: string, body: object) =>
      answer(`/api/refits/dot.yaml/${path}`, { method: 'POST', body: JSON.stringify(body) }),
    review: async () => answerIn<Review>(await answer('/api/refits/dot.yaml/review')),
  };
}

test('what is said in a file is there, and goes into the review file', async () => {
  const offline = new OfflineReview(copy, drawerOf());
  const { post, review } = asking(offline);
  assert.ok((await post('comments', comment)).ok);
  assert.ok(
    (
      await post('comments/c1/remarks', {
        id: 'r1',
        kind: 'closing',
        text: 'ok',
        evidence: [],
        author: 'Vi',
      })
    ).ok,
  );
  assert.ok((await post('signatures', signature)).ok);
  const again = { ...signature, id: 's2', verdict: 'send-again' };
  assert.ok((await post('signatures', again)).ok);
  const state = await review();
  assert.equal(state.standing.standing, 'unsigned');
  assert.match(state.standing.sentence, /^Nobody has signed this\. “agreed” of Vi, given/);
  assert.match(state.standing.sentence, /“send again” of Vi, given in this file, counts once/);
  assert.equal(state.comments[0]?.state, 'closed');
  assert.equal(state.comments[0]?.thread[0]?.text, 'ok');
  assert.equal(state.signatures[0]?.revision, null);
  assert.ok(offline.isUnsaved);
  const { name, text } = offline.save();
  assert.equal(name, 'dot-review.json');
  assert.ok(!offline.isUnsaved);
  const file = JSON.parse(text);
  assert.deepEqual([file.boat, file.document_sha256], ['Dot', 'd0']);
  assert.deepEqual([file.comments[0].id, file.signatures[1].id], ['c1', 's2']);
  assert.equal(file.remarks[0].comment, 'c1');
  assert.ok(!('evidence' in file.remarks[0]));
  assert.ok(Date.parse(file.comments[0].written_at));
});

test('no verdict given in a file is out of force before the server has read it', async () => {
  const offline = new OfflineReview(copy, drawerOf());
  const { post, review } = asking(offline);
  await post('signatures', { ...signature, verdict: 'send-again' });
  await post('signatures', { ...signature, id: 's2', verdict: 'not-looked-at' });
  await post('signatures', { ...signature, id: 's3' });
  const { signatures, standing } = await review();
  assert.deepEqual(
    signatures.map((one) => one.is_superseded),
    [false, false, false],
  );
  for (const words of ['send again', 'not reviewed', 'agreed'])
    assert.ok(standing.sentence.includes(`“${words}” of Vi, given in this file`));
});

test('what the server said of a verdict stays, whatever is signed in the file', () => {
  const signatures = [
    signatureOf({ id: 'a', author: 'Vi', verdict: 'send-again' }),
    signatureOf({ id: 'b', author: 'Vi', is_superseded: true }),
  ];
  const reviewed = { revisions: [], review: reviewOf({ signatures }), since: null };
  const offline = new OfflineReview({ ...copy, reviewed }, drawerOf());
  offline.sign(signature);
  assert.deepEqual(
    offline.review.signatures.map((one) => one.is_superseded),
    [false, true, false],
  );
});

test('it is there again at the next visit, and another document has its own', async () => {
  const drawer = drawerOf();
  await asking(new OfflineReview(copy, drawer)).post('comments', comment);
  const again = new OfflineReview(copy, drawer);
  assert.equal(again.count, 1);
  assert.ok(again.isUnsaved);
  again.save();
  assert.ok(!new OfflineReview(copy, drawer).isUnsaved);
  const other = { ...copy, working: workingCopy('e1') };
  assert.equal(new OfflineReview(other, drawer).count, 0);
});

test('a browser that keeps nothing says so', async () => {
  const full: OwnStorage = {
    getItem: () => null,
    setItem: () => {
      throw new Error('full');
    },
  };
  const offline = new OfflineReview(copy, full);
  assert.ok(offline.isKept);
  await asking(offline).post('comments', comment);
  assert.ok(!offline.isKept);
  assert.equal(offline.count, 1);
  assert.ok(!new OfflineReview(copy, undefined).isKept);
});

test('an empty word is refused, and nothing else may be sent', async () => {
  const { post } = asking(new OfflineReview(copy, drawerOf()));
  assert.equal((await post('comments', { ...comment, text: '  ' })).status, 422);
  assert.equal((await post('signatures', { ...signature, author: '' })).status, 422);
  assert.equal((await post('shares', { ...comment })).status, 403);
});

test('a file that is open twice loses nothing of either', () => {
  const held = new Map<string, string>();
  const [one, other] = [
    new OfflineReview(copy, drawerOf(held)),
    new OfflineReview(copy, drawerOf(held)),
  ];
  one.comment(comment);
  other.comment(newCommentOf({ ...comment, id: 'c2' }));
  const ids = new OfflineReview(copy, drawerOf(held)).review.comments.map(({ id }) => id);
  assert.deepEqual(ids.toSorted(), ['c1', 'c2']);
});

test('what was merged since is there once in a file that is handed out again', () => {
  const held = new Map<string, string>();
  const first = new OfflineReview(copy, drawerOf(held));
  first.comment(comment);
  first.sign(signature);
  const {
    standing,
    comments: [merged],
  } = first.review;
  const review = reviewOf({ standing, comments: [found(merged)] });
  const reviewed = { revisions: [], review, since: null };
  const again = new OfflineReview({ ...copy, reviewed }, drawerOf(held));
  assert.deepEqual([again.review.comments.length, again.count], [1, 1]);
});

test('a drawer that holds something else is no harm', () => {
  const offline = new OfflineReview(copy, { getItem: () => '{"comments": 7}', setItem: nothing });
  assert.deepEqual([offline.count, offline.isKept], [0, false]);
  offline.comment(comment);
  assert.deepEqual([offline.count, offline.isKept], [1, true]);
});

test('a signature that no server would take is not written', async () => {
  const offline = new OfflineReview(copy, drawerOf());
  const { post } = asking(offline);
  const bare = await post('signatures', { ...signature, verdict: 'agreed-with-conditions' });
  assert.equal((await bare.json()).code, 'no-condition');
  const conditions = Array.from({ length: 101 }, String);
  const long = { ...signature, verdict: 'agreed-with-conditions', conditions };
  assert.equal((await (await post('signatures', long)).json()).code, 'too-many');
  assert.equal(offline.count, 0);
});
