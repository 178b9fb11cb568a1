import assert from 'node:assert/strict';
import { test } from 'node:test';
import { effectOf } from '../../testing/answers.ts';
import { MEASURES, measureWords } from './measures.ts';

const effect = effectOf({
  sinkage_mm: 10,
  trim_mm: 20,
  heel_deg: -0.4,
  vcg_mm: 3,
  gm_mm: -12,
  freeboard_aft_mm: -18,
});

test('every measure says its side in words', () => {
  const words = Object.values(MEASURES).map((m) => measureWords(m, m.of(effect)));
  assert.deepEqual(words, [
    '20 mm by the stern',
    '0.4° to port',
    '18 mm less freeboard aft',
    '3 mm higher VCG',
    '12 mm less GM',
  ]);
});

test('less than half a step is nothing', () => {
  assert.equal(measureWords(MEASURES.list, 0.04), 'list unchanged');
  assert.equal(measureWords(MEASURES.freeboard, null), 'not known here');
});
