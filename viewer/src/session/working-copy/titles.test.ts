import assert from 'node:assert/strict';
import { test } from 'node:test';
import { withTitles } from './titles.ts';

const TYPED = new Map([
  ['chayka', 'Чайка'],
  ['weight-1', '海鸥'],
]);
const BOAT = {
  titles: { chayka: 'Чайка', aigaio: 'Αιγαίο' },
  changes: { chayka: { adds: { aigaio: { mass_kg: 1 } } }, bow: {} },
};

test('what is added keeps its name as it was typed, in the same edit', () => {
  const set = { op: 'set', path: 'weights.chayka', value: { mass_kg: 1 } } as const;
  assert.deepEqual(withTitles([set], {}, TYPED), [
    set,
    { op: 'set', path: 'titles.chayka', value: 'Чайка' },
  ]);
  const whole = { op: 'set', path: 'hull.lines', value: { sheer: {}, 'weight-1': {} } } as const;
  assert.deepEqual(withTitles([whole], {}, TYPED).slice(1), [
    { op: 'set', path: 'titles.weight-1', value: '海鸥' },
  ]);
  const other = { op: 'set', path: 'weights.anchor', value: 1 } as const;
  assert.deepEqual(withTitles([other], {}, TYPED), [other]);
});

test('a name goes with the last that bears it, and with what it lies in', () => {
  const remove = (path: string) => ({ op: 'remove', path }) as const;
  const weight = remove('changes.chayka.adds.aigaio');
  assert.deepEqual(withTitles([weight], BOAT, new Map()), [weight, remove('titles.aigaio')]);
  const change = remove('changes.chayka');
  assert.deepEqual(withTitles([change], BOAT, new Map()), [change, remove('titles')]);
  const elsewhere = { ...BOAT, weights: { aigaio: {} } };
  assert.deepEqual(withTitles([weight], elsewhere, new Map()), [weight]);
  const plain = remove('changes.bow');
  assert.deepEqual(withTitles([plain], BOAT, new Map()), [plain]);
});
