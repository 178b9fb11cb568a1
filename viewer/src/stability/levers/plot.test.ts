import assert from 'node:assert/strict';
import { test } from 'node:test';
import { conditionOf, found, heldOf, openingOf } from '../../testing/answers.ts';
import { byHeel, flagsOf, shownOf } from './lever-flags.ts';
import {
  areaPath,
  bandPath,
  type Curves,
  curvePath,
  type Flag,
  inRows,
  planeOf,
  rulings,
  signedPath,
} from './plot.ts';

const side = (sign: number, levers: readonly number[], bare: readonly number[]) =>
  heldOf(
    [0, 30, 40, 60, 60, 180].map((heel) => sign * heel + 0),
    {
      gz_m: levers,
      gz_plus_minus_m: levers.map(() => 0.02),
      gz_without_house_m: bare,
    },
  );
const boat: Curves = {
  port: side(-1, [0, 0.2, 0.25, 0.3, 0.3, 0], [0, 0.1, 0.2, 0.2, 0.2, -0.33]),
  starboard: side(1, [0, 0.2, 0.3, 0.4, 0.2, 0], [0, 0.1, 0.2, 0.2, 0.2, 0]),
};
const sheet = { span: 'starboard', width: 700, height: 320 } as const;
const plane = planeOf([boat], sheet);
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
  const port = planeOf([boat], { ...sheet, span: 'port' });
  assert.ok(port.x(-180) > port.x(0));
  assert.equal(port.x(-180), plane.x(180));
});

test('a pixel is a heel in whole degrees, within what is shown', () => {
  assert.equal(plane.heel(plane.x(72) + 0.4), 72);
  assert.equal(plane.heel(-50), 0);
  assert.equal(plane.heel(5000), 180);
  const circle = planeOf([boat], { ...sheet, span: 'circle' });
  assert.equal(circle.heel(circle.x(-72)), -72);
});

test('a step is drawn as a step', () => {
  const drawn = points(curvePath(plane, boat, 'gz_m'));
  assert.equal(drawn.length, 6);
  assert.equal(found(drawn[3])[0], found(drawn[4])[0]);
  assert.ok(found(found(drawn[4])[1]) > found(found(drawn[3])[1]));
});

test('the whole circle is two runs, one side has one', () => {
  const circle = planeOf([boat], { ...sheet, span: 'circle' });
  assert.equal(curvePath(circle, boat, 'gz_m').match(/M/g)?.length, 2);
  assert.equal(curvePath(plane, boat, 'gz_m').match(/M/g)?.length, 1);
});

test('a curve ends where there is no lever, and all levers have room', () => {
  const wet = heldOf([0, -1, -2], { gz_wells_full_m: [0, -0.9, null] });
  const roomy = planeOf([boat, { port: wet }], { ...sheet, span: 'port' });
  assert.ok(roomy.range[0] <= -0.9);
  assert.deepEqual(points(curvePath(roomy, { port: wet }, 'gz_wells_full_m')), [
    [roomy.x(0), roomy.y(0)].map((px) => Number(px.toFixed(1))),
    [roomy.x(-1), roomy.y(-0.9)].map((px) => Number(px.toFixed(1))),
  ]);
});

test('the band goes out above and back below', () => {
  const band = points(bandPath(plane, boat));
  assert.equal(band.length, 12);
  const [first, last] = [found(band[0]), found(band.at(-1))];
  assert.equal(first[0], last[0]);
  assert.ok(Math.abs(found(last[1]) - found(first[1]) - (plane.y(0) - plane.y(0.04))) < 0.11);
});

test('an area ends at its angles on the axis', () => {
  const area = points(areaPath(plane, boat, 'starboard', [30, 40]));
  assert.deepEqual(
    area.map(([x]) => x),
    [30, 30, 40, 40].map((heel) => Number(plane.x(heel).toFixed(1))),
  );
  assert.ok(Math.abs(found(found(area[1])[1]) - plane.y(0.2)) < 0.06);
  assert.equal(areaPath(plane, { starboard: heldOf([0, 20]) }, 'starboard', [0, 30]), '');
});

test('what rights her and what capsizes her meet where the lever is nought', () => {
  const flat = { starboard: heldOf([0, 10, 20, 30], { gz_m: [0, 0.1, -0.1, -0.1] }) };
  const x = (path: string) => points(path).map(([at]) => at);
  const px = (heel: number) => Number(plane.x(heel).toFixed(1));
  assert.deepEqual(x(signedPath(plane, flat, 1)), [0, 0, 10, 10, 15, 15].map(px));
  assert.deepEqual(x(signedPath(plane, flat, -1)), [15, 15, 20, 20, 30, 30].map(px));
  const loll = { starboard: heldOf([0, 10, 20], { gz_m: [-0.1, -0.1, 0.1] }) };
  assert.equal(x(signedPath(plane, loll, 1))[0], px(15));
  assert.equal(signedPath(plane, { starboard: heldOf([0, 10], { gz_m: [0, 0] }) }, 1), '');
});

test('the flags that stand are the weightiest, and what ends her range is named', () => {
  const angles = { downflooding_angle_deg: 77.7, downflooding_angle_all_open_deg: 67.7 };
  const side = { ...angles, deck_edge_angle_deg: 34.7, coaming_angle_deg: 85.9, range_deg: 77.7 };
  const opening = openingOf({ id: 'vent', side: 'centreline' });
  const now = conditionOf({
    ...{ worse_side: 'starboard', vanishing_angle_starboard_deg: 123.9, greatest_gz_at_deg: 75 },
    sides: {
      starboard: { ...side, downflooding_angle_in_use_deg: 70, downflooding_by_area_deg: null },
    },
    openings: [{ ...opening, immersion_angles_deg: { starboard: 80, port: null } }],
  });
  const { shown, ticks } = shownOf(flagsOf(now, 'starboard'));
  assert.deepEqual(
    shown.map((flag) => flag.words),
    [
      'vanishes 124°',
      'first unclosed opening 78°, her limit',
      ...['all openings open 68°', 'maximum GZ 75°', 'deck edge 35°'],
    ],
  );
  assert.deepEqual(
    byHeel(ticks).map((flag) => flag.words),
    ['boards out 70°', 'vent 80°', 'cockpit coaming 86°'],
  );
  assert.deepEqual(flagsOf(now, 'port'), []);
});

test('words never lie on words nor run over the edge', () => {
  const flag = (heel: number): Flag => ({ heel, words: `at ${heel}`, kind: 'opening' });
  const placed = inRows([flag(100), flag(102), flag(179), flag(20)], plane, () => 60);
  const of = (heel: number) => found(placed.find((f) => f.heel === heel));
  assert.notEqual(of(100).row, of(102).row);
  assert.equal(of(20).row, 0);
  assert.equal(of(179).anchor, 'end');
  assert.equal(of(100).anchor, 'start');
  const [long] = inRows([flag(100)], { x: (heel) => heel, width: 200 }, () => 150);
  assert.deepEqual([long?.anchor, long?.at], ['start', 200 - 158]);
});
