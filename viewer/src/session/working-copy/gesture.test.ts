import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Gesture, holding, lifted } from './gesture.ts';

test('edits while a pointer is held are one gesture, the next press another', () => {
  const gesture = new Gesture();
  gesture.press();
  const first = gesture.now();
  assert.equal(gesture.now(), first);
  gesture.lift();
  gesture.press();
  assert.notEqual(gesture.now(), first);
  gesture.lift();
});

test('what can wait goes on at once with no pointer held, else when it is lifted', async () => {
  await lifted(60_000);
  const gesture = new Gesture();
  gesture.press();
  let went = false;
  const waits = lifted(60_000).then(() => {
    went = true;
  });
  await Promise.resolve();
  assert.equal(went, false);
  gesture.lift();
  await waits;
  assert.equal(went, true);
});

test('a pointer that rests is not waited for longer than said', async () => {
  const gesture = new Gesture();
  gesture.press();
  await lifted(5);
  gesture.lift();
});

test('a drawing stands still under a hand that is in it, not under one on a slider', () => {
  const gesture = new Gesture();
  gesture.press();
  assert.deepEqual(holding(), { held: true, still: false });
  gesture.lift();
  gesture.press('drawing');
  assert.deepEqual(holding(), { held: true, still: true });
  gesture.lift();
  assert.deepEqual(holding(), { held: false, still: false });
});
