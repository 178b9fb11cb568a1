import assert from 'node:assert/strict';
import { test } from 'node:test';
import { documentFields } from './forms.ts';
import { isSeveral, laidOver, pasted } from './paste.ts';

const [row] = documentFields({
  properties: {
    at_m: {
      type: 'array',
      prefixItems: [{ type: 'number' }, { type: 'number' }, { type: 'number' }],
    },
  },
});
const columns = row?.kind === 'row' ? row.fields : [];

test('one value is pasted as such, several are cells', () => {
  assert.equal(isSeveral('1.25 m\n'), false);
  assert.equal(isSeveral('1.25\t0.5'), true);
  assert.equal(isSeveral('1,25\n1,5'), true);
});

test('rows are read with a comma or a point, a heading is left out', () => {
  const { rows, misread } = pasted('x\ty\tz\r\n1,25\t0.5\t-1\r\n2\t0\t120 cm\r\n', columns);
  assert.deepEqual(rows, [
    [1.25, 0.5, -1],
    [2, 0, 1.2],
  ]);
  assert.deepEqual(misread, []);
});

test('a heading with a unit says what the numbers below it are in', () => {
  const { rows, misread } = pasted('x, aft, mm\ty (ft)\tup\n1250\t10\t1.5', columns);
  assert.deepEqual([rows, misread], [[[1.25, 3.048, 1.5]], []]);
});

test('every cell that is not understood is told, and what is too much', () => {
  const { misread } = pasted('1\t2\t3\nabout 4\t\t6\t7', columns);
  assert.deepEqual(misread, [
    'Row 2 has 1 more than the 3 columns from here.',
    'Row 2, x, aft: “about 4” is not a number.',
    'Row 2, y, to starboard: “” is not a number.',
  ]);
  assert.equal(pasted('x\ty', columns).misread.length, 1);
});

test('what is pasted lies over the cells from where it begins', () => {
  const rows = [
    [1, 2, 3],
    [4, 5, 6],
  ];
  const over = {
    rows: [
      [7, 8],
      [9, 0],
    ],
    misread: [],
  };
  assert.deepEqual(laidOver(rows, over, [1, 1]), [
    [1, 2, 3],
    [4, 7, 8],
    [null, 9, 0],
  ]);
});
