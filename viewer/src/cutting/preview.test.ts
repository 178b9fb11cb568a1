import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { PlateResult } from '../contract.ts';
import { partOf } from '../testing/answers.ts';
import { steelTotals } from './preview.ts';

const piece = (kind: PlateResult['kind'], thickness_mm: number, mass_kg: number): PlateResult => ({
  id: '',
  kind,
  thickness_mm,
  area_m2: mass_kg / 10,
  mass_kg,
  sawn_from: null,
});
const parts = [
  partOf({ plates: [piece('plate', 4, 30), piece('flat_bar', 5, 2), piece('plate', 3, 10)] }),
  partOf({ plates: [piece('plate', 4, 20)] }),
];

test('plates come before bars, the thinnest first, over all parts', () => {
  assert.deepEqual(
    steelTotals(parts, {}).map((one) => [one.kind, one.thickness_mm, one.count, one.mass_kg]),
    [
      ['plate', 3, 1, 10],
      ['plate', 4, 2, 50],
      ['bar', 5, 1, 2],
    ],
  );
  assert.deepEqual(steelTotals([], {}), []);
});

test('a shaped flat is cut from plate, a straight one is sawn from its section', () => {
  const flat = (sawn_from: string, mass_kg: number) => ({
    ...piece('flat_bar', 5, mass_kg),
    sawn_from,
  });
  const plates = [
    flat('', 3),
    flat('flat 40 x 5', 1),
    flat('flat 50 x 5', 4),
    piece('plate', 5, 9),
  ];
  assert.deepEqual(
    steelTotals([partOf({ plates })], {}).map((one) => [one.kind, one.section, one.mass_kg]),
    [
      ['plate', '', 12],
      ['bar', 'flat 40 x 5', 1],
      ['bar', 'flat 50 x 5', 4],
    ],
  );
});

test('sheets are those of the thickness, and what is no size is passed over', () => {
  const stock = {
    plates: {
      a: { thickness_mm: 4, sizes_m: [[3, 1.5], 'wrong', [6, 2]] },
      b: { thickness_mm: 5, sizes_m: [[1, 1]] },
      c: { thickness_mm: 3 },
    },
  };
  const sheets = steelTotals(parts, { stock }).map((one) => one.sheets_m);
  assert.deepEqual(sheets, [
    [],
    [
      [3, 1.5],
      [6, 2],
    ],
    [],
  ]);
  assert.deepEqual(steelTotals(parts, { stock: 'none' })[0]?.sheets_m, []);
});
