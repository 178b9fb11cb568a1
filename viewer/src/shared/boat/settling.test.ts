import assert from 'node:assert/strict';
import { test } from 'node:test';
import { between, swung } from './settling.ts';

const level = (heel: number, trim = 0, offset = 0) => ({ heel, trim, offset });

test('she begins where she was, swings beyond, and ends where she is', () => {
  assert.equal(swung(0), 0);
  assert.equal(swung(1), 1);
  assert.ok(Math.max(...[0.2, 0.3, 0.4].map(swung)) > 1);
});

test('ten times the change is ten times it, and heels go the shorter way round', () => {
  assert.deepEqual(between(level(1, 0.5, 0.1), level(2, 0.7, 0), 10), {
    heel: 11,
    trim: 0.5 + 10 * (0.7 - 0.5),
    offset: 0.1 + 10 * (0 - 0.1),
  });
  assert.equal(between(level(179), level(-179), 0.5).heel, 180);
});
