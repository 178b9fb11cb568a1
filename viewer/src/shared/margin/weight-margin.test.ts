import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { LimitLineResult, WeightMarginResult } from '../../contract.ts';
import { found } from '../../testing/answers.ts';
import { chartOf, limitPath } from './weight-margin.ts';

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
const dot = {
  condition: 'departure',
  displacement_kg: 11_000,
  vcg_m: 0.1,
  vcg_fluid_m: 0.12,
  margins: [],
};
const allowed: WeightMarginResult = {
  water_density_kg_m3: 1025,
  lines: [line('far', [0.9, 1.1]), line('near', [0.2, 0.4]), line('doubtful', [0.1, 0.1], false)],
  dots: [dot],
  rooms: [],
  remarks: [],
};

test('everything has room in the chart, heavier to the right and higher up', () => {
  const chart = chartOf(allowed, 600, 300);
  assert.ok(chart.x(10_000) >= 0 && chart.x(12_000) <= 600);
  assert.ok(chart.y(1.1) > 0 && chart.y(0.1) < 300 && chart.y(1.1) < chart.y(0.1));
  assert.ok(chart.masses.includes(11_000) && chart.heights.length > 2);
  assert.equal(limitPath(chart, found(allowed.lines[0])).match(/L/g)?.length, 1);
});
