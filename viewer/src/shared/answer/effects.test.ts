import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Assessment } from '../../contract.ts';
import * as testing from '../../testing/answers.ts';
import { effectOrNone, withEffects } from './effects.ts';

const effect = (trim_mm: number) => testing.effectOf({ trim_mm });
const answer = (house: number | null, arch: number | null) =>
  testing.assessmentOf({
    changes: [
      testing.changeOf({ id: 'house', effect: house === null ? null : effect(house) }),
      testing.changeOf({ id: 'arch', effect: arch === null ? null : effect(arch) }),
    ],
    parts: [],
    replaced: [],
  });
const trims = (one: Assessment) => one.changes.map((change) => effectOrNone(change).trim_mm);

test('what an answer leaves out stays as it was, what it brings is new', () => {
  assert.deepEqual(trims(withEffects(answer(5, null), answer(3, 7))), [5, 7]);
});

test('a first answer stands as it is', () => {
  assert.deepEqual(trims(withEffects(answer(5, 6), undefined)), [5, 6]);
});
