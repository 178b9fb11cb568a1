import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ConditionResult } from '../../contract.ts';
import { assessmentOf, conditionOf, found } from '../../testing/answers.ts';
import { comparedIn, floatsIn, unansweredIn, unansweredWords } from './floats.ts';

type Stage = ConditionResult['stage'];
const row = (id: string, stage: Stage) => conditionOf({ id, stage, gm_m: 1 });
const sunk = (id: string, stage: Stage) => ({
  id,
  stage,
  gm_m: null,
  code: 'sinks',
  unanswered: 'She sinks: 52,000 kg.',
});
const answer = assessmentOf({
  conditions: [
    row('departure', 'as_found'),
    row('departure', 'refit'),
    row('over-loaded', 'as_found'),
    sunk('over-loaded', 'refit'),
    sunk('lead', 'as_found'),
    row('lead', 'refit'),
  ],
});
const names = (rows: readonly { id: string; stage: string }[]) =>
  rows.map(({ id, stage }) => `${id} ${stage}`);

test('a boat without results is no float, and says why', () => {
  assert.deepEqual(names(floatsIn(answer)), [
    'departure as_found',
    'departure refit',
    'over-loaded as_found',
    'lead refit',
  ]);
  const [one] = unansweredIn(answer, 'over-loaded');
  assert.equal(
    unansweredWords(found(one)),
    'The refit has no results in condition over loaded. She sinks: 52,000 kg.',
  );
  assert.deepEqual(unansweredIn(answer, 'departure'), []);
});

test('the boat as found never stands in for a refit that sinks', () => {
  assert.deepEqual(names(comparedIn(answer)), [
    'departure as_found',
    'departure refit',
    'lead refit',
  ]);
});
