import assert from 'node:assert/strict';
import { test } from 'node:test';
import { found } from '../../testing/answers.ts';
import { directionsOf, heightAt, type Level, pointSeenAt, seenAcross } from './level.ts';

const near = (a: number, b: number) => assert.ok(Math.abs(a - b) < 1e-9, `${a}, not ${b}`);
const upright: Level = { heel: 0, trim: 0, offset: 0.03 };

test('upright and level, heights are the boat’s own less what she sinks', () => {
  near(heightAt(upright, [4, 1, 0.5]), 0.47);
  near(seenAcross(upright, [4, 1, 0.5]), 1);
});

test('the three directions are of unit length, upright on each other and right-handed', () => {
  const { aft, starboard, up } = directionsOf({ heel: 130, trim: -7, offset: 0 });
  const dot = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, v, i) => sum + v * found(b[i]), 0);
  for (const one of [aft, starboard, up]) near(dot(one, one), 1);
  for (const [a, b] of [
    [aft, starboard],
    [starboard, up],
    [up, aft],
  ] as const)
    near(dot(a, b), 0);
  near(aft[0] * starboard[1] - aft[1] * starboard[0], up[2]);
});

test('a point is found again from where it is seen, heeled and trimmed', () => {
  const level: Level = { heel: 40, trim: 3, offset: 0.2 };
  const point = [6, -0.7, 0.4] as const;
  const again = pointSeenAt(level, 6, [seenAcross(level, point), heightAt(level, point)]);
  for (const [i, v] of point.entries()) near(found(again[i]), v);
});
