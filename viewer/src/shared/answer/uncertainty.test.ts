import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { SampledResult } from '../../contract.ts';
import { conditionOf, plusMinusOf } from '../../testing/answers.ts';
import { byWords, drawnRows, gmWords, uprightWords, withSd } from './uncertainty.ts';

const drawn: SampledResult = {
  draws: 500,
  why: 'GM upright is +0.040 +/- 0.030 m',
  unstable_percent: 12.4,
  capsized_percent: 0,
  gm_upright_m: [-0.012, 0.04, 0.088],
  heel_deg: [-9.2, 0.1, 9.4],
  heel_either_side_deg: [0.2, 1.4, 9.4],
  vanishing_angle_deg: [0, 64.2, 180],
  range_deg: [0, 64.2, 66],
  greatest_gz_m: [-0.001, 0.11, 0.14],
};

test('a value of the levers carries its plus/minus, words do not', () => {
  assert.equal(withSd('122.2°', 2.28, '°'), '122.2° ± 2.3°');
  assert.equal(withSd('122.2°', 0.47, '°'), '122.2° ± 0.5°');
  assert.equal(withSd('−38 mm', 4.1, 'mm'), '−38 mm ± 4 mm');
  assert.equal(withSd('does not right herself', 2, '°'), 'does not right herself');
  assert.equal(withSd('122.2°', null, '°'), '122.2°');
});

test('GM says whose word its plus/minus is', () => {
  const boat = conditionOf({
    gm_m: 0.128,
    gm_at_rest_m: 0.128,
    plus_minus: plusMinusOf({ gm_m: 0.028 }),
    plus_minus_by: 'sampled',
  });
  assert.equal(gmWords(boat), '0.13 ± 0.03 m, sampled');
  const linear = conditionOf({ ...boat, plus_minus_by: 'linear' });
  assert.equal(gmWords(linear), '0.13 ± 0.03 m');
  assert.equal(byWords(null), '');
  const listed = { ...linear, gm_m: 0.04, gm_at_rest_m: 0.168 };
  assert.equal(gmWords(listed), '0.04 ± 0.03 m (at rest 0.17 m)');
});

test('draws are told from below to above, and in a sentence', () => {
  const rows = Object.fromEntries(drawnRows(drawn).map((row) => [row.name, row.words]));
  assert.deepEqual(rows['GM upright'], ['−0.01 m', '+0.04 m', '+0.09 m']);
  assert.deepEqual(rows['angle of vanishing stability'], [
    'does not right herself',
    '64.2°',
    'rights from every heel',
  ]);
  assert.equal(drawnRows({ ...drawn, range_deg: null }).length, 4);
  assert.equal(
    uprightWords(drawn),
    'In 12 % of the sampled weight combinations she does not stay upright.',
  );
  assert.match(uprightWords({ ...drawn, capsized_percent: 3 }), /, and in 3 % she capsizes\.$/);
  assert.match(uprightWords({ ...drawn, capsized_percent: 12.4 }), /combinations she capsizes\.$/);
  assert.match(uprightWords({ ...drawn, unstable_percent: 0 }), /^She stays upright in all/);
});
