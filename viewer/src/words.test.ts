import assert from 'node:assert/strict';
import { test } from 'node:test';
import { count, idOf, lastKey, title } from './words.ts';

test('ids to words and back', () => {
  assert.equal(title('electric-drive'), 'Electric drive');
  assert.equal(idOf('Électric drive №2'), 'electric-drive-no2');
  assert.equal(idOf('  '), '');
});

test('counting', () => {
  assert.equal(count(1, 'plate'), '1 plate');
  assert.equal(count(9, 'plate'), '9 plates');
});

test('last key', () => assert.equal(lastKey('changes.bow.adds.anchor'), 'anchor'));
