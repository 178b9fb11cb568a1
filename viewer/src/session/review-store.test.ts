import assert from 'node:assert/strict';
import { test } from 'node:test';
import { commentOf, reviewOf } from '../testing/review.ts';
import { askInstead } from './api.ts';
import { ReviewStore } from './review-store.ts';

let review = reviewOf();
const asked: string[] = [];
const answers: Readonly<Record<string, () => unknown>> = { review: () => review };

function listening(): ReviewStore {
  askInstead((path) => {
    const what = path.split('/').at(-1) ?? '';
    asked.push(what);
    const body = JSON.stringify((answers[what] ?? (() => []))());
    return Promise.resolve(new Response(body, { headers: { 'content-type': 'application/json' } }));
  });
  return new ReviewStore('boat', true);
}

const since = () => new Set(asked.splice(0));

test('an edit reads of the review what it may have changed, and nothing where there is none', async () => {
  const store = listening();
  await store.afterEdit();
  assert.deepEqual(since(), new Set(['attachments', 'review', 'revisions', 'shares']));
  await store.afterEdit();
  assert.deepEqual(since(), new Set([]));
  review = reviewOf({ comments: [commentOf({ id: 'one' })] });
  await store.refresh(); // as an event says
  since();
  review = reviewOf({ comments: [commentOf({ id: 'one', is_adrift: true })] });
  await store.afterEdit();
  assert.deepEqual(since(), new Set(['review']));
  assert.equal(store.present.review?.comments[0]?.is_adrift, true);
});
