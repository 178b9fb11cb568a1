import assert from 'node:assert/strict';
import { test } from 'node:test';
import { nameIn } from './api.ts';

test('a file comes under the name that the server gives it', () => {
  assert.equal(nameIn('attachment; filename="sloop.zip"'), 'sloop.zip');
  assert.equal(nameIn("attachment; filename*=UTF-8''%C3%85se%201.html"), 'Åse 1.html');
  assert.equal(nameIn(''), 'file');
});
