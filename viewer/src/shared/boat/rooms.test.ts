import assert from 'node:assert/strict';
import { test } from 'node:test';
import { roomsOf } from './rooms.ts';

const document = {
  hull: {
    lines: {
      keel: {
        points_m: [
          [0, 0, -0.8],
          [9, 0, 0.1],
        ],
      },
      sheer: {
        points_m: [
          [0, 0, 1.4],
          [9, 1, 1.2],
        ],
      },
    },
    compartments: { forepeak: { x_m: [0, 1.5] } },
  },
  tanks: {
    box: { box_m: { x: [2, 3], y: [-1, 1], z: [-0.5, 0] } },
    plan: {
      outline_m: [
        [4, -1],
        [5, -0.5],
        [4.5, 1],
      ],
      z_m: [-0.3, 0.2],
    },
    begun: { capacity_l: 20 },
  },
  openings: {
    hatch: {
      edge_m: [
        [2, 0, 1.5],
        [2.6, 0, 1.45],
      ],
    },
  },
};
const drawn = (section: 'tanks' | 'openings' | 'rig') =>
  Object.fromEntries(roomsOf(document, section).map(({ path, points }) => [path, points]));

test('each room is drawn between its ends, as high as it says or as the hull', () => {
  const { 'hull.compartments.forepeak': _, ...tanks } = drawn('tanks');
  assert.deepEqual(tanks, {
    'tanks.box': [
      [2, -0.5],
      [3, -0.5],
      [3, 0],
      [2, 0],
    ],
    'tanks.plan': [
      [4, -0.3],
      [5, -0.3],
      [5, 0.2],
      [4, 0.2],
    ],
  });
});

test('a compartment reaches from the lowest line of the hull to the highest', () => {
  const forepeak = drawn('tanks')['hull.compartments.forepeak'] ?? [];
  assert.deepEqual(forepeak[0], [0, -0.8]);
  assert.deepEqual(forepeak.at(-1), [0, 1.4]);
  assert.deepEqual(forepeak[12], [1.5, -0.65]);
});

test('openings are drawn along their edge, and other sections draw none', () => {
  assert.deepEqual(drawn('openings'), {
    'openings.hatch': [
      [2, 1.5],
      [2.6, 1.45],
    ],
  });
  assert.deepEqual(drawn('rig'), {});
});
