import assert from 'node:assert/strict';
import { test } from 'node:test';
import { nameIn, withView } from './api.ts';

test('a file comes under the name that the server gives it', () => {
  assert.equal(nameIn('attachment; filename="sloop.zip"'), 'sloop.zip');
  assert.equal(nameIn("attachment; filename*=UTF-8''%C3%85se%201.html"), 'Åse 1.html');
  assert.equal(nameIn(''), 'file');
});

test('an address asks for what is looked at, and leaves out what is not', () => {
  const view = { condition: 'full & dry', option: null };
  assert.equal(withView('/a', view, { edit: 3, units: null }), '/a?condition=full+%26+dry&edit=3');
  assert.equal(withView('/a', { condition: '', option: null }), '/a');
});
