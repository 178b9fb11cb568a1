import assert from 'node:assert/strict';
import { test } from 'node:test';
import { scaleOf } from '../boat/side-view.ts';
import { placesOfWords } from './freeboard.ts';

const SCALE = scaleOf({ x0: 0, x1: 10, z0: -2, z1: 3 }, 600);
const mark = (id: string, x: number) => ({ id, spot: [x, 180] as const });

test('words stand low to the right of their mark, at the stern to its left', () => {
  const places = placesOfWords([mark('forward', 60), mark('aft', 560)], SCALE, []);
  assert.deepEqual(places.get('forward'), { isLeft: false, away: 7, up: 0 });
  assert.deepEqual(places.get('aft'), { isLeft: true, away: 7, up: 0 });
});

test('words stand clear of a handle and of other words', () => {
  const [first, second] = [mark('first', 200), mark('second', 260)];
  assert.equal(placesOfWords([first], SCALE, [[230, 165]]).get('first')?.isLeft, true);
  assert.equal(placesOfWords([first], SCALE, [[204, 170]]).get('first')?.away, 30);
  const both = placesOfWords([first, second], SCALE, []);
  assert.notDeepEqual(both.get('second'), { isLeft: true, away: 7, up: 0 });
  assert.equal(both.size, 2);
});
