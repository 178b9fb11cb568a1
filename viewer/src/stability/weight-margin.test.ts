import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { AllowedResult, LimitLineResult } from '../contract.ts';
import { found } from '../testing/answers.ts';
import { chartOf, limitAt, limitPath, roomsAt } from './weight-margin.ts';

const line = (id: string, vcg_m: number[], can_be_judged = true): LimitLineResult => ({
  id,
  title: id,
  source: 'a code',
  grade: can_be_judged ? 'A' : 'C',
  can_be_judged,
  displacement_kg: [10_000, 12_000],
  vcg_m,
  found: [true, true],
});
const dot = { condition: 'departure', displacement_kg: 11_000, vcg_m: 0.1, vcg_fluid_m: 0.12 };
const allowed: AllowedResult = {
  water_density_kg_m3: 1025,
  lines: [line('far', [0.9, 1.1]), line('near', [0.2, 0.4]), line('doubtful', [0.1, 0.1], false)],
  dots: [dot],
  rooms: [],
  remarks: [],
};

test('a limit runs straight between its points, and level beyond them', () => {
  const [far] = allowed.lines;
  assert.equal(Math.round(limitAt(found(far), 10_500) * 1e6), 950_000);
  assert.equal(limitAt(found(far), 9_000), 0.9);
  assert.equal(limitAt(found(far), 13_000), 1.1);
});

test('the nearest limit comes first, those to be confirmed last', () => {
  const rooms = roomsAt(allowed.lines, dot);
  assert.deepEqual(
    rooms.map((r) => [r.line.id, Math.round(r.left)]),
    [
      ['near', 180],
      ['far', 880],
      ['doubtful', -20],
    ],
  );
});

test('everything has room in the chart, heavier to the right and higher up', () => {
  const chart = chartOf(allowed, 600, 300);
  assert.ok(chart.x(10_000) >= 0 && chart.x(12_000) <= 600);
  assert.ok(chart.y(1.1) > 0 && chart.y(0.1) < 300 && chart.y(1.1) < chart.y(0.1));
  assert.ok(chart.masses.includes(11_000) && chart.heights.length > 2);
  assert.equal(limitPath(chart, found(allowed.lines[0])).match(/L/g)?.length, 1);
});
