import assert from 'node:assert/strict';
import { test } from 'node:test';
import { found } from '../../testing/answers.ts';
import {
  directionsOf,
  heightAt,
  type Level,
  levelAtRest,
  seenAcross,
  sinkageAt,
  trimAt,
} from './level.ts';

const near = (a: number, b: number) => assert.ok(Math.abs(a - b) < 1e-9, `${a}, not ${b}`);
const upright: Level = { heel: 0, trim: 0, offset: 0.03 };

test('upright and level, heights are the boat’s own less what she sinks', () => {
  near(heightAt(upright, [4, 1, 0.5]), 0.47);
  near(sinkageAt(upright, 10), 0.03);
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

test('at rest she floats in the waterline that her sinkage, trim and list say', () => {
  const level = levelAtRest({ sinkage_mm: 40, trim_mm: 100, heel_deg: 0 }, 10);
  near(heightAt(level, [5, 0, 0.04]), 0);
  near(heightAt(level, [10, 0, 0.09]), 0);
  near(heightAt(level, [0, 0, -0.01]), 0);
  near(trimAt(level, 10), 100);
  const listed = levelAtRest({ sinkage_mm: 40, trim_mm: 0, heel_deg: 10 }, 10);
  near(heightAt(listed, [5, 0, 0.04]), 0);
  assert.ok(heightAt(listed, [5, 1, 0.04]) < 0);
});
