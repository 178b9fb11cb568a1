import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  callBy,
  count,
  freeKey,
  keyOf,
  keyWords,
  lastKey,
  plainWords,
  title,
  withNames,
} from './plain-words.ts';

test('ids to words and back', () => {
  assert.equal(title('electric-drive'), 'Electric drive');
  assert.equal(keyOf('Électric drive №2', 'weight'), 'electric-drive-no2');
  assert.equal(title('flat-bar-80x8'), 'Flat bar 80 × 8');
  assert.equal(title('foc-sle-x2'), 'Foc sle x2');
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
  assert.equal(freeKey('電池', 'weight', taken()), 'weight-1');
  assert.equal(freeKey('電池', 'weight', taken('weight-1', 'weight-2')), 'weight-3');
  assert.equal(freeKey('Weight', 'weight', taken('weight')), 'weight');
  assert.equal(freeKey('Åse', 'weight', taken('ase')), 'ase');
});

test('a name as it was typed stands for its key, in sentences too', () => {
  callBy({
    'flat-80x8': 'Flat',
    chayka: 'Чайка',
    'weight-1': '海鸥',
    'fore-hatch': 'Hatch (fore)',
  });
  try {
    assert.equal(plainWords('chayka'), 'Чайка');
    assert.equal(title('weight-1'), '海鸥');
    assert.equal(keyWords('weight-1'), 'weight 1');
    assert.equal(
      withNames(
        'Flat 80 × 8: Fore hatch, port lies under; chayka and weight-1 do not, chaykas and weight 12.',
      ),
      'Flat: Hatch (fore), port lies under; Чайка and 海鸥 do not, chaykas and weight 12.',
    );
    const free = () => false;
    assert.equal(freeKey('Чайка', 'weight', free), 'chayka');
    assert.equal(freeKey('chayka', 'weight', free), 'chayka-2');
    assert.equal(freeKey('電池', 'weight', free), 'weight-2');
    assert.equal(freeKey('海鸥', 'weight', free), 'weight-1');
  } finally {
    callBy({});
  }
});

test('counting', () => {
  assert.equal(count(1, 'plate'), '1 plate');
  assert.equal(count(9, 'plate'), '9 plates');
});

test('last key', () => assert.equal(lastKey('changes.bow.adds.anchor'), 'anchor'));
