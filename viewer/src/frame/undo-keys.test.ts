import assert from 'node:assert/strict';
import { test } from 'node:test';
import { wayOf } from './undo-keys.ts';

const press = (key: string, more = {}) => ({
  key,
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  altKey: false,
  ...more,
});

test('Ctrl or Cmd Z takes back, with Shift or as Ctrl Y it does again', () => {
  assert.equal(wayOf(press('z', { ctrlKey: true })), 'undo');
  assert.equal(wayOf(press('z', { metaKey: true })), 'undo');
  assert.equal(wayOf(press('Z', { metaKey: true, shiftKey: true })), 'redo');
  assert.equal(wayOf(press('Z', { ctrlKey: true, shiftKey: true })), 'redo');
  assert.equal(wayOf(press('y', { ctrlKey: true })), 'redo');
});

test('other presses mean something else', () => {
  assert.equal(wayOf(press('z')), undefined);
  assert.equal(wayOf(press('z', { ctrlKey: true, altKey: true })), undefined);
  assert.equal(wayOf(press('y', { metaKey: true })), undefined);
  assert.equal(wayOf(press('a', { ctrlKey: true })), undefined);
});
