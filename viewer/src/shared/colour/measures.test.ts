import assert from 'node:assert/strict';
import { test } from 'node:test';
import { MEASURES, measureWords } from './measures.ts';

const reach = { length: 10, aftMark: 9 };
const effect = { sinkage_mm: 10, trim_mm: 20, heel_deg: -0.4, vcg_mm: 3, gm_mm: -12 };

test('freeboard aft falls by the sinkage and by the share of the trim there', () => {
  assert.equal(MEASURES.freeboard.of(effect, reach), -18);
});

test('every measure says its side in words', () => {
  const words = Object.values(MEASURES).map((m) => measureWords(m, m.of(effect, reach)));
  assert.deepEqual(words, [
    '20 mm by the stern',
    '0.4° to port',
    '18 mm less freeboard aft',
    '3 mm higher VCG',
    '12 mm less GM',
  ]);
});

test('less than half a step is nothing', () => {
  assert.equal(measureWords(MEASURES.list, 0.04), 'upright');
});
