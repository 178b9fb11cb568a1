import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Assessment } from '../../contract.ts';
import { assessmentOf, changeOf } from '../../testing/answers.ts';
import { effectOf, withEffects } from './effects.ts';

const effect = (trim_mm: number) => ({
  sinkage_mm: 0,
  trim_mm,
  heel_deg: 0,
  vcg_mm: 0,
  gm_mm: 0,
});
const answer = (house: number | null, arch: number | null) =>
  assessmentOf({
    changes: [
      changeOf({ id: 'house', effect: house === null ? null : effect(house) }),
      changeOf({ id: 'arch', effect: arch === null ? null : effect(arch) }),
    ],
    parts: [],
    replaced: [],
  });
const trims = (one: Assessment) => one.changes.map((change) => effectOf(change).trim_mm);

test('what an answer leaves out stays as it was, what it brings is new', () => {
  assert.deepEqual(trims(withEffects(answer(5, null), answer(3, 7))), [5, 7]);
});

test('a first answer stands as it is', () => {
  assert.deepEqual(trims(withEffects(answer(5, 6), undefined)), [5, 6]);
});
