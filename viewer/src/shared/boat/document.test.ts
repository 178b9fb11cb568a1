import assert from 'node:assert/strict';
import { test } from 'node:test';
import { at, losesEntries } from './document.ts';

const boat = {
  changes: { house: { parts: { house: { side_height_m: 0.58 } } } },
};

test('a path finds its value, or nothing', () => {
  assert.equal(at(boat, 'changes.house.parts.house.side_height_m'), 0.58);
  assert.equal(at(boat, 'changes.bow.parts'), undefined);
});

test('a list that lost an entry is told from one that was changed, at any depth', () => {
  const points = {
    edge_m: [
      [1, 2],
      [3, 4],
      [5, 6],
    ],
  };
  assert.equal(
    losesEntries(points, {
      edge_m: [
        [1, 2],
        [3, 4],
      ],
    }),
    true,
  );
  assert.equal(
    losesEntries(
      [points],
      [
        {
          edge_m: [
            [1, 2],
            [3, 4],
            [5, 7],
          ],
        },
      ],
    ),
    false,
  );
  assert.equal(losesEntries(undefined, [1]), false);
});
