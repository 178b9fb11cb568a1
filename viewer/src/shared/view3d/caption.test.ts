import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Spot } from '../../scene/aim.ts';
import { partOf } from '../../testing/answers.ts';
import { plateWords } from './caption.ts';

const roof = {
  id: 'roof-port',
  kind: 'plate',
  thickness_mm: 2.5,
  area_m2: 2,
  mass_kg: 42.26,
  sawn_from: '',
} as const;
const parts = [partOf({ id: 'house', plates: [roof] })];
const spot = (piece: string, plate: string | undefined): Spot => ({
  piece,
  plate,
  point: [0, 0, 0],
  within: 0,
});

test('a plate that is pressed says its thickness and its mass', () => {
  assert.equal(plateWords(parts, spot('house', 'house.roof-port')), '2.5 mm, 42.3 kg');
  assert.equal(plateWords(parts, spot('house', undefined)), '');
  assert.equal(plateWords(parts, spot('hull', 'hull.skin')), '');
});
