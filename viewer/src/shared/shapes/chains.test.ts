import assert from 'node:assert/strict';
import { test } from 'node:test';
import { chainsOf, loopsOf, turnOf } from './chains.ts';

const square = [0, 0, 2, 0, 2, 2, 0, 2, 2, 0, 2, 2, 0, 2, 0, 0];

test('loose segments of a square are one loop, whatever their order', () => {
  const [loop, ...others] = loopsOf(square);
  assert.deepEqual(others, []);
  assert.equal(loop?.length, 4);
  assert.equal(Math.abs(turnOf(loop ?? [])), 8); // twice its area
});

test('ends that differ by a rounding error are one', () => {
  const shaken = square.map((v, i) => v + (i % 3) * 1e-5);
  assert.equal(loopsOf(shaken).length, 1);
});

test('what does not close is a run, and no loop', () => {
  const open = square.slice(0, 12);
  assert.deepEqual(loopsOf(open), []);
  const [run] = chainsOf(open, 1e-3);
  assert.equal(run?.isClosed, false);
  assert.equal(run?.points.length, 4);
});

test('two loops apart stay two', () => {
  assert.equal(loopsOf([...square, ...square.map((v) => v + 10)]).length, 2);
});
