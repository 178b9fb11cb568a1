import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Ladder } from './ladder.ts';

const after = (first: 'full' | 'software', frames: readonly number[]) => {
  const ladder = new Ladder(first);
  for (const ms of frames) ladder.judge(ms);
  return ladder.rung;
};
const frames = (ms: number, count = 9) => Array.from({ length: count }, () => ms);

test('frames that are slow for good lead one rung down at a time, a burst does not', () => {
  assert.equal(after('full', frames(30)), 'full');
  assert.equal(after('full', [...frames(30, 6), ...frames(900, 4)]), 'full');
  assert.equal(after('full', frames(200)), 'software');
  assert.equal(after('software', frames(200)), 'software');
  assert.equal(after('software', frames(500)), 'plain');
});
