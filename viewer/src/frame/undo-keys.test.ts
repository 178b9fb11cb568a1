import assert from 'node:assert/strict';
import { test } from 'node:test';
import { directionOf } from './undo-keys.ts';

const press = (key: string, more = {}) => ({
  key,
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  altKey: false,
  ...more,
});

test('Ctrl or Cmd Z takes back, with Shift or as Ctrl Y it does again', () => {
  assert.equal(directionOf(press('z', { ctrlKey: true })), 'undo');
  assert.equal(directionOf(press('z', { metaKey: true })), 'undo');
  assert.equal(directionOf(press('Z', { metaKey: true, shiftKey: true })), 'redo');
  assert.equal(directionOf(press('Z', { ctrlKey: true, shiftKey: true })), 'redo');
  assert.equal(directionOf(press('y', { ctrlKey: true })), 'redo');
});

test('other presses mean something else', () => {
  assert.equal(directionOf(press('z')), undefined);
  assert.equal(directionOf(press('z', { ctrlKey: true, altKey: true })), undefined);
  assert.equal(directionOf(press('y', { metaKey: true })), undefined);
  assert.equal(directionOf(press('a', { ctrlKey: true })), undefined);
});
