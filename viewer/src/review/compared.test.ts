import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ComparedRow, ScenePart } from '../contract.ts';
import { comparedOf } from '../testing/review.ts';
import { groupsOf, overlaid } from './compared.ts';
import { documentValueWords } from './document-values.ts';

const row = (more: Partial<ComparedRow>): ComparedRow => ({
  group: 'results',
  path: 'x',
  where: 'departure, refit',
  what: 'GM',
  before: 0.95,
  after: 0.912,
  unit: 'm',
  step: 0.005,
  is_small: false,
  ...more,
});

test('rows in words: old, new and the difference', () => {
  const [group] = groupsOf([row({})], 'departure');
  assert.deepEqual(group?.rows, [
    {
      path: 'x',
      name: 'Departure, refit: GM',
      before: '0.950 m',
      after: '0.910 m',
      change: '−0.040 m',
    },
  ]);
});

test('an input is shown as it is written, its unit once', () => {
  const input = row({
    group: 'dimensions',
    where: 'deckhouse: house',
    what: 'side_height_m',
    before: 0.4,
    after: 0.58,
    step: null,
  });
  assert.deepEqual(groupsOf([input], 'departure')[0]?.rows[0], {
    path: 'x',
    name: 'Deckhouse: house: side height',
    before: '0.4 m',
    after: '0.58 m',
    change: '+0.18 m',
  });
  const gone = groupsOf([{ ...input, after: null }], '')[0]?.rows[0];
  assert.deepEqual([gone?.after, gone?.change], ['gone', '']);
});

test('small differences and other conditions are folded, a criterion that turns is not', () => {
  const rows = [
    row({}),
    row({ is_small: true }),
    row({ where: 'arrival, refit' }),
    row({ group: 'criteria', where: 'arrival, refit', before: 'met', after: 'not met' }),
  ];
  const [results, criteria] = groupsOf(rows, 'departure');
  assert.equal(results?.rows.length, 1);
  assert.deepEqual(
    results?.folded.map(([why, some]) => [why, some.length]),
    [
      ['in other conditions', 1],
      ['too small to matter', 1],
    ],
  );
  assert.equal(criteria?.rows.length, 1);
});

test('over the new drawing lies the old outline of what is not the same', () => {
  const piece = (id: string, mesh: string, role: ScenePart['role'] = 'new'): ScenePart => ({
    id,
    role,
    change: null,
    mesh: `/a/${mesh}.glb`,
    glb: '',
    opens_m: [],
  });
  const over = overlaid(
    comparedOf({
      scene_before: [piece('hull', '1', 'hull'), piece('house', '2'), piece('shelf', '3')],
      scene_after: [
        { ...piece('hull', '1', 'hull'), mesh: '/b/1.glb' },
        piece('house', '4'),
        piece('arch', '5'),
        piece('existing.house', '6', 'replaced'),
      ],
    }),
  );
  assert.deepEqual([...over.differing], ['house', 'arch']);
  assert.deepEqual(over.outlined, ['house', 'shelf']);
  assert.deepEqual(
    over.pieces.map((one) => `${one.id} ${one.role}`),
    ['hull hull', 'house new', 'arch new', 'before house before', 'before shelf before'],
  );
});

test('values of the document in words', () => {
  assert.equal(documentValueWords(null), '–');
  assert.equal(documentValueWords(-0.58), '−0.58');
  assert.equal(documentValueWords([1, true]), '1; yes');
  assert.equal(documentValueWords({ mass_kg: 4, from: 'drawn' }), 'mass kg 4, from drawn');
});
