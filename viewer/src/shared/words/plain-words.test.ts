import assert from 'node:assert/strict';
import { test } from 'node:test';
import { count, freeKey, keyOf, lastKey, title } from './plain-words.ts';

test('ids to words and back', () => {
  assert.equal(title('electric-drive'), 'Electric drive');
  assert.equal(keyOf('Électric drive №2', 'weight'), 'electric-drive-no2');
  assert.equal(keyOf(' !? ', 'weight'), '');
});

test('a name in any script has a readable key, the same as on the command line', () => {
  const keys = {
    Åse: 'ase',
    'Straße 7 / Łódź': 'strasse-7-lodz',
    'Батарея новая': 'batareya-novaya',
    Αιγαίο: 'aigaio',
    'Østersjøen I': 'ostersjoen-i',
  };
  for (const [name, key] of Object.entries(keys)) assert.equal(keyOf(name, 'weight'), key);
  assert.equal(keyOf('電池', 'weight'), 'weight');
});

test('what cannot be read in Latin is numbered, and nothing else is', () => {
  const taken =
    (...keys: string[]) =>
    (key: string) =>
      keys.includes(key);
  assert.equal(freeKey('電池', 'weight', taken()), 'weight');
  assert.equal(freeKey('電池', 'weight', taken('weight', 'weight-2')), 'weight-3');
  assert.equal(freeKey('Weight', 'weight', taken('weight')), 'weight');
  assert.equal(freeKey('Åse', 'weight', taken('ase')), 'ase');
});

test('counting', () => {
  assert.equal(count(1, 'plate'), '1 plate');
  assert.equal(count(9, 'plate'), '9 plates');
});

test('last key', () => assert.equal(lastKey('changes.bow.adds.anchor'), 'anchor'));
