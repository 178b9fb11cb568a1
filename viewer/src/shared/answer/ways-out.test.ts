import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { WayOutResult } from '../../contract.ts';
import { itemOf } from '../../testing/answers.ts';
import { couldMove, needWords } from './ways-out.ts';

const way = (more: Partial<WayOutResult> = {}): WayOutResult => ({
  direction: 'forward',
  moment_kgm: 132.6,
  mass_kg: null,
  moves: [],
  ...more,
});

test('what kind of weight would do it, in a mass one can think of', () => {
  assert.match(needWords(way()), /^About 130 kg moved 1 m forward,/);
  assert.match(needWords(way({ moment_kgm: 640 })), /^About 210 kg moved 3 m forward,/);
  assert.match(
    needWords(way({ direction: 'to port', moment_kgm: 4.5 })),
    /^About 4\.5 kg moved 1 m to port,/,
  );
  const off = way({ direction: 'off', moment_kgm: null, mass_kg: 214 });
  assert.equal(needWords(off), 'About 210 kg less on board would do it.');
});

test('the heaviest weights without a range could be allowed to move along', () => {
  const items = [
    itemOf({ path: 'a', role: 'added', mass_kg: 20 }),
    itemOf({ path: 'b', role: 'added', mass_kg: 90 }),
    itemOf({ path: 'c', role: 'moved', mass_kg: 30, may_lie_x_m: [1, 2] }),
    itemOf({ path: 'd', role: 'part', mass_kg: 400 }),
    itemOf({ path: 'e', role: 'removed', mass_kg: 500 }),
  ];
  assert.deepEqual(
    couldMove(items, way()).map((one) => one.path),
    ['b', 'a'],
  );
  assert.deepEqual(couldMove(items, way({ direction: 'to port' })), []);
});
