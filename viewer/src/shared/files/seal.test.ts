import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { test } from 'node:test';
import { SEAL, sealState, unsignable } from './seal.ts';

const block = (id: string, textContent: string, type = 'application/json') => ({
  ...{ id, textContent, type },
});
const WRITTEN =
  '<script type="application/json" id="refit">{"gm_m":0.78,"name":"Löwe"}</script>\n' +
  '<script type="application/gzip" id="held">H4sI</script>\n';
const seal = block(SEAL, createHash('sha256').update(WRITTEN).digest('hex'), 'text/plain');
const held = block('held', 'H4sI', 'application/gzip');
const state = (refit: string, ...more: (typeof seal)[]) =>
  sealState([block('refit', refit), held, ...more], crypto.subtle);

test('a file is whole as written, and changed where one digit of a figure is', async () => {
  assert.equal(await state('{"gm_m":0.78,"name":"Löwe"}', seal), 'whole');
  assert.equal(await state('{"gm_m":0.98,"name":"Löwe"}', seal), 'changed');
  assert.equal(await state('{"gm_m":0.78,"name":"Löwe"}'), 'changed');
  assert.equal(await sealState([seal], undefined), 'not checked');
});

test('a changed file is read and commented, but not signed', async () => {
  const answers = unsignable(async () => new Response('read'));
  const post = { method: 'POST', body: '{}' };
  assert.equal(await (await answers('/api/refits/dot/review')).text(), 'read');
  assert.equal(await (await answers('/api/refits/dot/comments', post)).text(), 'read');
  const refused = await answers('/api/refits/dot/signatures', post);
  assert.equal(refused.status, 403);
  assert.match(await refused.text(), /was changed after it was made.*do not sign/);
});
