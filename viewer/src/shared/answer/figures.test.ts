import assert from 'node:assert/strict';
import { test } from 'node:test';
import { conditionOf, differenceOf, found, plusMinusOf } from '../../testing/answers.ts';
import { writeIn } from '../words/writing.ts';
import { figures } from './figures.ts';

const plus_minus = plusMinusOf({
  displacement_kg: 130,
  lcg_m: 0.02,
  tcg_m: 0.004,
  vcg_m: 0.03,
  sinkage_mm: 4,
  trim_mm: 8,
  heel_deg: 0.2,
  gm_m: 0.04,
});
const boat = (stage: 'as_found' | 'refit', trim_mm: number, displacement_kg: number) =>
  conditionOf({
    id: 'survey-state',
    stage,
    trim_mm,
    displacement_kg,
    plus_minus,
    centre_of_gravity_m: [5.2, 0, -0.1],
    sinkage_mm: -3,
    sinkage_bow_mm: -40,
    sinkage_stern_mm: 40,
    heel_deg: -0.31,
    gm_m: 1.008,
  });
const before = boat('as_found', 56, 12190);
const after = conditionOf({
  ...boat('refit', 97.3, 12484),
  change: differenceOf({
    displacement_kg: 294,
    lcg_m: 0.01,
    vcg_m: 0.05,
    sinkage_mm: 12,
    sinkage_bow_mm: -9,
    sinkage_stern_mm: null,
    trim_mm: 41.3,
    heel_deg: 0.01,
    gm_m: -0.03,
    plus_minus: { ...plus_minus, displacement_kg: 36, trim_mm: 4, gm_m: 0.007 },
  }),
});
const by = (id: string) => found(figures([before, after], 'survey-state').find((f) => f.id === id));

test('value, as found, change and uncertainties, each rounded to its own', () => {
  const displacement = by('displacement');
  assert.deepEqual(
    [
      displacement.value,
      displacement.plusMinus,
      displacement.was,
      displacement.change,
      displacement.changePlusMinus,
    ],
    ['12,480 kg', '130', '12,190', '+290 kg', '40'],
  );
});

test('signs are words', () => {
  assert.deepEqual(
    [by('trim').value, by('trim').side, by('trim').change],
    ['97 mm', 'by the stern', '41 mm by the stern'],
  );
  assert.deepEqual(
    [by('list').value, by('list').side, by('list').change],
    ['0.3°', 'to port', 'no change'],
  );
  assert.deepEqual([by('vcg').value, by('vcg').side], ['0.10 m', 'below DWL']);
  assert.deepEqual([by('bow').value, by('bow').side, by('bow').was], ['40 mm', 'higher', '40']);
  assert.deepEqual([by('lcg').side, by('lcg').was], ['aft of FP', '5.20']);
  assert.equal(by('trim').wasInFull, '56 mm by the stern');
  assert.equal(by('gm').change, '−30 mm');
});

test('a change that an older revision does not tell is left out', () => {
  assert.deepEqual([by('bow').change, by('stern').change], ['9 mm higher', '']);
});

test('a boat without its other keeps its figures', () => {
  assert.deepEqual(
    figures([before], 'survey-state').map((f) => f.change),
    Array(9).fill(''),
  );
  assert.deepEqual(figures([before], 'nowhere'), []);
});

test('the word of draws stands beside list and GM alone', () => {
  const drawn = figures([{ ...after, plus_minus_by: 'sampled' }], 'survey-state');
  assert.deepEqual(
    drawn.filter((figure) => figure.sampled).map((figure) => figure.id),
    ['list', 'gm'],
  );
  assert.ok(figures([after], 'survey-state').every((figure) => !figure.sampled));
});

test('upside down, only figures that do not depend on attitude are shown', () => {
  const over = conditionOf({ ...after, heel_deg: 179.8, upside_down: true });
  const now = (id: string) =>
    found(figures([before, over], 'survey-state').find((f) => f.id === id));
  assert.deepEqual(
    [now('list').value, now('list').change, now('list').plusMinus],
    ['upside down', '', ''],
  );
  assert.deepEqual([now('trim').value, now('trim').was], ['—', '56 by the stern']);
  assert.equal(now('displacement').change, '+290 kg');
  const was = figures(
    [
      { ...over, stage: 'as_found' },
      { ...before, stage: 'refit' },
    ],
    'survey-state',
  );
  assert.equal(found(was.find((f) => f.id === 'trim')).value, '56 mm');
});

test('figures, their plus/minus and their changes are in one unit, feet and inches too', () => {
  const conditions = [before, after];
  writeIn({ units: 'feet and inches', decimal: '.' });
  try {
    for (const figure of figures(conditions, 'survey-state')) {
      const words = [figure.value, figure.was, figure.change, figure.plusMinus].join(' ');
      assert.doesNotMatch(words, /\b(mm|kg|m)\b/, figure.id);
    }
    const gm = by('gm');
    assert.deepEqual([gm.change, gm.changePlusMinus], ['−1 1/8 in', '1/4']);
  } finally {
    writeIn({ units: 'metric', decimal: '.' });
  }
});
