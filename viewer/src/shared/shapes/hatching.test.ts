import assert from 'node:assert/strict';
import { test } from 'node:test';
import { hatchingOf } from './hatching.ts';

/** A square metre square to each axis. */
const SQUARES = [
  [0, 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1],
  [0, 0, 0, 1, 0, 0, 1, 0, 1, 0, 0, 1],
  [0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0],
];
const CORNERS = [0, 1, 2, 0, 2, 3];

test('a face is hatched whichever way it lies, with lines as far apart as asked', () => {
  for (const square of SQUARES) {
    const ends = hatchingOf(square, CORNERS, 0.25);
    const lines = new Set<number>();
    for (let i = 0; i < ends.length; i += 3) {
      const sum = ends.slice(i, i + 3).reduce((a, b) => a + b, 0);
      const line = sum / Math.sqrt(3) / 0.25;
      assert.ok(Math.abs(line - Math.round(line)) < 1e-9);
      lines.add(Math.round(line));
    }
    assert.ok(lines.size >= 4, `${lines.size}`);
  }
});

test('what has no faces has no lines', () => {
  assert.deepEqual(hatchingOf([], []), []);
});
