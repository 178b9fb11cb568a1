import assert from 'node:assert/strict';
import { test } from 'node:test';
import { massColour, scaleTop, trimColour, trimEndOf } from './colour.ts';

test('the ends, the halves and the middle of the map', () => {
  assert.deepEqual(
    [50, 25, 0, -25, -50].map((mm) => trimColour(mm, 50)),
    ['#d67523', '#dba885', '#d9d7d4', '#86a6cd', '#3072c1'],
  );
});

test('beyond the scale the end colour stays', () => {
  assert.equal(trimColour(999, 50), trimColour(50, 50));
});

test('a dead band of half a millimetre is level', () => {
  assert.equal(trimColour(0.49, 1), trimColour(0, 1));
  assert.notEqual(trimColour(0.51, 1), trimColour(0, 1));
  assert.deepEqual([-3, 0.4, 3].map(trimEndOf), ['bow', 'level', 'stern']);
});

test('mass is without hue', () => {
  for (const kg of [0, 50, 100]) {
    const rgb = [1, 3, 5].map((i) => parseInt(massColour(kg, 100).slice(i, i + 2), 16));
    assert.ok(Math.max(...rgb) - Math.min(...rgb) < 12, `${rgb}`);
  }
});

test('the scale ends at a round number', () => {
  assert.deepEqual(
    [[0.2], [3], [41, -61], [-100], [101]].map((v) => scaleTop(v)),
    [1, 3, 80, 100, 150],
  );
});
