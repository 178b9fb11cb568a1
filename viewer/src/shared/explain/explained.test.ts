import assert from 'node:assert/strict';
import { test } from 'node:test';
import { figureWords, gradeWords, inputWords, pathsUp, stepOf, whereEntered } from './explained.ts';

const figure = (value: number | null, unit: string, plus_minus: number | null = null, path = '') =>
  figureWords({ path, value, unit, plus_minus });
const input = (value: number | null, unit: string) =>
  inputWords({ symbol: '', name: '', value, unit, words: '', path: '', assumed: false });

test('a figure is rounded to its plus/minus, and says it', () => {
  assert.equal(figure(13621.11, 'kg', 118.6), '13,620 ± 120 kg');
  assert.equal(figure(0.97668, 'm', 0.0282), '0.98 ± 0.03 m');
  assert.equal(figure(14453, 'kg', 2182), '14,500 ± 2,200 kg');
  assert.equal(figure(0.906, 'm', 0.35, 'conditions.departure.refit.gm_m'), '0.91 ± 0.35 m');
  assert.equal(figure(1.396, 'm', 0.005), '1.396 ± 0.005 m');
});

test('without one it keeps three digits, or what is worth showing of its unit', () => {
  assert.equal(figure(171.4321, 'mm'), '171.4 mm');
  assert.equal(figure(-0.00123456, 'm'), '−0.00123 m');
  assert.equal(figure(0.4, 'deg'), '0.400°');
  assert.equal(figure(0, 'kg', 0), '0.0 kg');
  assert.equal(figure(null, ''), '');
  assert.equal(stepOf(0.58, ''), 0.001);
});

test('inputs have digits enough to reckon with, and their units in full', () => {
  assert.equal(input(7850, 'kg/m3'), '7,850 kg/m³');
  assert.equal(input(-1300.06, 'kg m'), '−1,300.1 kg·m');
  assert.equal(input(null, ''), '');
});

test('a grade is a word and what it says', () => {
  assert.match(gradeWords('B'), /^B: its text was seen/);
  assert.equal(gradeWords('weighed'), 'weighed');
});

test('a value of the document has a page where it can be set, or none', () => {
  const dimension = whereEntered('changes.deckhouse.parts.house.side_height_m');
  assert.deepEqual(dimension, {
    page: 'float',
    picked: { change: 'deckhouse', part: 'house' },
  });
  assert.deepEqual(whereEntered('changes.bow.adds.anchor.mass_kg'), { page: 'ledger' });
  assert.deepEqual(whereEntered('survey.vcg.z_m'), { page: 'boat', section: 'freeboards' });
  for (const none of ['tank.water', 'changes', 'changes.bow', 'condition.stripped'])
    assert.equal(whereEntered(none), undefined);
});

test('a path lies in others, the longest first', () => {
  assert.deepEqual(pathsUp('a.b.c'), ['a.b.c', 'a.b', 'a']);
});
