import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { RightingLevers } from '../contract.ts';
import { found } from '../testing/answers.ts';
import {
  areaPath,
  bandPath,
  curvePath,
  type Flag,
  filledPath,
  inRows,
  planeOf,
  rulings,
} from './plot.ts';

const heels = [-180, -120, -60, 0, 60, 60, 120, 180];
const levers: RightingLevers = {
  heel_deg: heels,
  gz_m: [0, -0.1, 0.3, 0, 0.4, 0.2, -0.2, 0],
  gz_plus_minus_m: heels.map(() => 0.02),
  gz_without_house_m: [0, -0.2, 0.2, 0, 0.2, 0.2, -0.33, 0],
  gz_well_dry_m: [0, -0.1, 0.3, 0, 0.4, 0.2, -0.2, 0],
  trim_deg: heels.map(() => 0),
  water_offset_m: heels.map(() => 0),
};
const sheet = { span: 'starboard', width: 700, height: 320 } as const;
const plane = planeOf([levers], sheet);
const points = (path: string) =>
  path
    .replace(/Z/g, '')
    .split(/[ML]/)
    .filter(Boolean)
    .map((pair) => pair.split(',').map(Number));

test('every lever has room, with its band and without the house, and nought is ruled', () => {
  assert.ok(plane.range[0] <= -0.33 && plane.range[1] >= 0.42);
  assert.ok(rulings(plane, false).levers.some((lever) => Math.abs(lever) < 1e-9));
  assert.deepEqual(rulings(plane, true).heels, [0, 60, 120, 180]);
});

test('up is up, outwards is to the right, also to port', () => {
  assert.ok(plane.y(0.4) < plane.y(0));
  const port = planeOf([levers], { ...sheet, span: 'port' });
  assert.ok(port.x(-180) > port.x(0));
  assert.equal(port.x(-180), plane.x(180));
});

test('a pixel is a heel in whole degrees, within what is shown', () => {
  assert.equal(plane.heel(plane.x(72) + 0.4), 72);
  assert.equal(plane.heel(-50), 0);
  assert.equal(plane.heel(5000), 180);
  const circle = planeOf([levers], { ...sheet, span: 'circle' });
  assert.equal(circle.heel(circle.x(-72)), -72);
});

test('a step is drawn as a step', () => {
  const drawn = points(curvePath(plane, levers, (at) => at.gz));
  assert.equal(drawn.length, 5);
  assert.equal(found(drawn[1])[0], found(drawn[2])[0]);
  assert.ok(found(found(drawn[2])[1]) > found(found(drawn[1])[1]));
});

test('the whole circle is two runs, one side has one', () => {
  const circle = planeOf([levers], { ...sheet, span: 'circle' });
  assert.equal(curvePath(circle, levers, (at) => at.gz).match(/M/g)?.length, 2);
  assert.equal(curvePath(plane, levers, (at) => at.gz).match(/M/g)?.length, 1);
});

test('the curve of spilling wells has its own heels and all its levers have room', () => {
  const wells = {
    heel_deg: [-90, 0, 90],
    gz_m: [-0.9, 0, 0.3],
    water_kg: [0, 9, 0],
    vanishing_angle_deg: 80,
  };
  const roomy = planeOf([levers], { ...sheet, span: 'port', also: wells.gz_m });
  assert.ok(roomy.range[0] <= -0.9);
  const drawn = points(filledPath(roomy, wells));
  assert.deepEqual(drawn, [
    [roomy.x(0), roomy.y(0)].map((px) => Number(px.toFixed(1))),
    [roomy.x(-90), roomy.y(-0.9)].map((px) => Number(px.toFixed(1))),
  ]);
});

test('the band goes out above and back below', () => {
  const band = points(bandPath(plane, levers));
  assert.equal(band.length, 10);
  const [first, last] = [found(band[0]), found(band.at(-1))];
  assert.equal(first[0], last[0]);
  assert.ok(Math.abs(found(last[1]) - found(first[1]) - (plane.y(0) - plane.y(0.04))) < 0.11);
});

test('an area ends at its angles on the axis, with the lever read between heels', () => {
  const area = points(areaPath(plane, levers, 'starboard', [30, 40]));
  assert.deepEqual(
    area.map(([x]) => x),
    [30, 30, 40, 40].map((heel) => Number(plane.x(heel).toFixed(1))),
  );
  assert.ok(Math.abs(found(found(area[1])[1]) - plane.y(0.2)) < 0.06);
  const none = { ...levers, heel_deg: [], gz_m: [] };
  assert.equal(areaPath(plane, none, 'starboard', [0, 30]), '');
});

test('words never lie on words nor run over the edge', () => {
  const flag = (heel: number): Flag => ({ heel, words: `at ${heel}`, kind: 'opening' });
  const placed = inRows([flag(100), flag(102), flag(179), flag(20)], plane, () => 60);
  const of = (heel: number) => found(placed.find((f) => f.heel === heel));
  assert.notEqual(of(100).row, of(102).row);
  assert.equal(of(20).row, 0);
  assert.equal(of(179).anchor, 'end');
  assert.equal(of(100).anchor, 'start');
});
