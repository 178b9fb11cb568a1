import assert from 'node:assert/strict';
import { test } from 'node:test';
import { found } from '../../testing/answers.ts';
import { csvOf, linesOf, pointAt, sectionsOf } from './hull-lines.ts';

const document = {
  hull: {
    lines: {
      keel: {
        kind: 'fair',
        points_m: [
          [0, 0, 0],
          [4, 0, -1],
        ],
      },
      sheer: {
        kind: 'sheer',
        points_m: [
          [0, 0.5, 1],
          [2, 1.5, 1],
          [4, 1, 1],
        ],
      },
    },
  },
};
const lines = linesOf(document);

test('straight between readings, nothing beyond them', () => {
  assert.deepEqual(pointAt(found(lines[0]).points, 2), [0, -0.5]);
  assert.equal(pointAt(found(lines[0]).points, 5), undefined);
});

test('a section at every station of the sheer', () => {
  assert.deepEqual(
    sectionsOf(lines).map((s) => s.x),
    [0, 2, 4],
  );
  assert.deepEqual(sectionsOf(lines)[1]?.points, [
    [0, -0.5],
    [1.5, 1],
  ]);
});

test('as a CSV file', () => {
  assert.equal(csvOf(lines).split('\n')[4], 'sheer,sheer,2,1.5,1');
});
