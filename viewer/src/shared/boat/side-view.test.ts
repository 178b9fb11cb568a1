import assert from 'node:assert/strict';
import { test } from 'node:test';
import { found, profileOf } from '../../testing/answers.ts';
import {
  frameOf,
  heightAlong,
  lowered,
  rulerMarks,
  scaleOf,
  svgPathOf,
  upturned,
  waterAt,
  withHoles,
} from './side-view.ts';

const profile = profileOf({
  outlines: [
    {
      id: 'hull',
      role: 'hull',
      points_m: [
        [-1, 1.5],
        [11, 1.1],
        [5, -0.9],
      ],
      closed: true,
    },
  ],
  length_waterline_m: 10,
});

test('the frame holds the outline and whatever stands on the beam', () => {
  const frame = frameOf(profile, [12.5]);
  assert.ok(frame.x0 < -1 && frame.x1 > 12.5 && frame.z0 < -0.9 && frame.z1 > 1.5);
});

test('the frame keeps its size while something grows a little', () => {
  const [hull] = profile.outlines;
  const grown = found(hull).points_m.map(([x, z]): [number, number] => [
    x,
    z + (z > 1.2 ? 0.05 : 0),
  ]);
  const after = { ...profile, outlines: [{ ...found(hull), points_m: grown }] };
  assert.deepEqual(frameOf(after), frameOf(profile));
});

test('a frame stays while everything fits, grows when it does not, and shrinks once let go', () => {
  const raised = (by: number) => {
    const [hull] = profile.outlines;
    const points_m = found(hull).points_m.map(([x, z]): [number, number] => [
      x,
      z > 1.2 ? z + by : z,
    ]);
    return { ...profile, outlines: [{ ...found(hull), points_m }] };
  };
  const before = frameOf(profile);
  for (const by of [0.1, 0.25, -0.3])
    assert.equal(frameOf(raised(by), [], { before, held: true }), before);
  const moved = frameOf(raised(0.6), [], { before, held: true });
  assert.ok(moved.z1 > 2.1 && moved.z0 < -0.9);
  assert.ok(Math.abs(moved.z1 - moved.z0 - (before.z1 - before.z0)) < 1e-9);
  assert.equal(frameOf(raised(2), [], { before, held: true, still: true }), before);
  const grown = frameOf(raised(0.9), [], { before, held: true });
  assert.ok(grown.z1 >= 2.4 + 0.25);
  assert.equal(frameOf(profile, [], { before: grown, held: true }), grown);
  assert.equal(frameOf(profile, [], { before: grown }), grown);
  const far = frameOf(raised(1.6), [], { before });
  assert.equal(frameOf(profile, [], { before: far, held: true }), far);
  assert.deepEqual(frameOf(profile, [], { before: far }), before);
});

test('a metre is as long along as up, bow left, up is up', () => {
  const scale = scaleOf({ x0: -1, x1: 11, z0: -2, z1: 2 }, 600);
  assert.equal(scale.perMetre, 50);
  assert.equal(scale.height, 200);
  assert.equal(scale.x(1) - scale.x(0), 50);
  assert.equal(scale.z(0) - scale.z(1), 50);
  assert.equal(
    svgPathOf(
      [
        [0, 0],
        [1, 1],
      ],
      true,
      scale,
    ),
    'M50.0,100.0L100.0,50.0Z',
  );
});

test('with her keel up the bow stays to the left, and heights hang down', () => {
  const scale = scaleOf({ x0: -1, x1: 11, z0: -2, z1: 1.5 }, 600, upturned({ upside_down: true }));
  assert.equal(scale.x(0), 50);
  assert.equal(scale.z(-2), 0);
  assert.equal(scale.z(1.5), scale.height);
});

test('the water is a straight line through both perpendiculars', () => {
  const attitude = { sinkage_bow_mm: -30, sinkage_stern_mm: 70 };
  assert.equal(waterAt(attitude, 10, 5), 0.02);
  assert.equal(waterAt(attitude, 10, 10), 0.07);
  assert.equal(waterAt(attitude, 10, 0), -0.03);
});

test('the ruler has whole metres only', () => {
  assert.deepEqual(rulerMarks({ x0: -1.4, x1: 2.6, z0: 0, z1: 1 }), [-1, 0, 1, 2]);
});

test('what lies within an outline of the same thing is a hole in it', () => {
  const square = (id: string, at: number, size: number) =>
    ({
      id,
      role: 'part',
      closed: true,
      points_m: [
        [at, at],
        [at + size, at],
        [at + size, at + size],
        [at, at + size],
      ],
    }) as const;
  const wall = square('house', 0, 4);
  const window = square('house', 1, 1);
  const shelf = square('house', 3, 2);
  const other = square('cockpit', 1, 1);
  assert.deepEqual(withHoles([wall, window, shelf, other]), [[wall, window], [shelf], [other]]);
});

test('height along a line is straight between its points, and none beyond its ends', () => {
  const line = [
    [0, 1],
    [4, 2],
    [8, 1.5],
  ] as const;
  assert.equal(heightAlong(line, 1), 1.25);
  assert.equal(heightAlong(line, 6), 1.75);
  assert.equal(heightAlong(line, 9), undefined);
  assert.equal(heightAlong(line, -1), undefined);
});

test('a frame is widened on both sides until it is low enough, and only then', () => {
  const frame = { x0: 0, x1: 10, z0: -2, z1: 3 };
  assert.equal(lowered(frame, 600, 300), frame);
  const low = lowered(frame, 600, 200);
  assert.deepEqual([low.x0, low.x1], [-2.5, 12.5]);
  assert.equal(scaleOf(low, 600).height, 200);
});
