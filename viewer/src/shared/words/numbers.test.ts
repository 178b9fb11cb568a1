import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  bytesWords,
  decidingStep,
  heelWords,
  kilograms,
  number,
  numberTyped,
  placeWords,
  signed,
  sinkWords,
  stepFor,
  trimWords,
} from './numbers.ts';

test('a step keeps one digit of the uncertainty, two where it begins with 1', () => {
  assert.deepEqual(
    [130, 8, 0.2, 0.04, 0.013].map((pm) => stepFor(pm, 0)),
    [10, 1, 0.1, 0.01, 0.001],
  );
});

test('a step is never finer than the quantity allows, nor without uncertainty', () => {
  assert.equal(stepFor(0.3, 1), 1);
  assert.equal(stepFor(0, 5), 5);
  assert.equal(stepFor(Number.NaN, 5), 5);
});

test('numbers are grouped, rounded, and carry a true minus', () => {
  assert.equal(number(12484.2, 10), '12,480');
  assert.equal(number(1234567, 1), '1,234,567');
  assert.equal(number(-3.26, 0.1), '−3.3');
  assert.equal(number(-0.04, 0.1), '0.0');
  assert.equal(number(1.0123, 0.005), '1.010');
  assert.equal(signed(41.3, 1), '+41');
  assert.equal(signed(-6, 1), '−6');
  assert.equal(signed(0.2, 1), '0');
});

test('signs are words', () => {
  assert.equal(trimWords(97), '97 mm by the stern');
  assert.equal(trimWords(-12.4), '12 mm by the bow');
  assert.equal(trimWords(0.4), 'level');
  assert.equal(heelWords(-0.26), '0.3° to port');
  assert.equal(heelWords(0.31), '0.3° to starboard');
  assert.equal(heelWords(0.04), 'upright');
  assert.equal(sinkWords(12), '12 mm deeper');
  assert.equal(sinkWords(-12), '12 mm higher');
});

test('kilograms and places', () => {
  assert.equal(kilograms(256.3), '256 kg');
  assert.equal(kilograms(7.62), '7.6 kg');
  assert.equal(kilograms(12484, 130), '12,480 kg');
  assert.equal(placeWords([5.2, 0, -0.4]), '5.20 m aft, 0.40 m down');
  assert.equal(placeWords([-0.85, -0.3, 1.35]), '0.85 m forward, 0.30 m to port, 1.35 m up');
});

test('a number is typed with comma or point; what may be read two ways is not guessed', () => {
  const read = ['5,5', '5.5', '−20', '.5', '0,580', '1200', '1200,125'].map(numberTyped);
  assert.deepEqual(read, [5.5, 5.5, -20, 0.5, 0.58, 1200, 1200.125]);
  for (const entry of [
    '1,200',
    '-12,345,678',
    '1e9',
    '0x10',
    'Infinity',
    'tall',
    '',
    '1.2.3',
    '9'.repeat(400),
  ])
    assert.ok(Number.isNaN(numberTyped(entry)), entry);
});

test('a value is shown as finely as it takes to tell it from its limit', () => {
  assert.equal(decidingStep(0.32, [-0.3, 0.3], 0.1), 0.01);
  assert.equal(decidingStep(0.42, [-0.3, 0.3], 0.1), 0.1);
  assert.equal(decidingStep(0.3, [0.3], 0.1), 0.1);
});

test('how large a file is', () => {
  assert.equal(bytesWords(1), '1 kB');
  assert.equal(bytesWords(340_000), '340 kB');
  assert.equal(bytesWords(2_440_000), '2.4 MB');
});
