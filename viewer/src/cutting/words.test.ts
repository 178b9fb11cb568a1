import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Cutting, PieceProgress } from '../contract.ts';
import { cutOpeningOf, cutPieceOf, cuttingOf } from '../testing/cutting.ts';
import {
  drawnIn,
  filtered,
  isSafe,
  nestWords,
  openingAsRead,
  stampOf,
  thicknesses,
} from './words.ts';

const piece = (id: string, thickness_mm: number, plate = id) =>
  cutPieceOf({ id, thickness_mm, part: 'house', plate });
const pieces = [piece('A', 5), piece('B', 4), piece('C', 4)];
const progressByPiece = new Map<string, PieceProgress>([
  ['B', { id: 'B', stage: 'cut', done: [], is_other_shape: false }],
]);

test('the thinnest plate comes first, each once', () => {
  assert.deepEqual(thicknesses(pieces), [4, 5]);
});

test('pieces are shown by thickness and by stage', () => {
  const ids = (thickness?: number, stage?: PieceProgress['stage']) =>
    filtered(pieces, progressByPiece, { thickness, stage }).map((one) => one.id);
  assert.deepEqual(ids(), ['A', 'B', 'C']);
  assert.deepEqual(ids(4), ['B', 'C']);
  assert.deepEqual(ids(undefined, 'to cut'), ['A', 'C']);
  assert.deepEqual(ids(4, 'cut'), ['B']);
  assert.deepEqual(ids(5, 'welded'), []);
});

const statusOf = (more: Partial<Cutting>, standing: Cutting['standing']['standing'] = 'signed') =>
  cuttingOf({ is_outdated: false, standing: { ...cuttingOf().standing, standing }, ...more });

test('only what is signed and still stands may be cut', () => {
  assert.equal(isSafe(statusOf({})), true);
  assert.equal(isSafe(statusOf({}, 'signed with conditions')), true);
  for (const word of ['unsigned', 'sent back', 'stale'] as const)
    assert.equal(isSafe(statusOf({}, word)), false);
  assert.equal(stampOf(statusOf({ is_outdated: true })), 'stale');
});

test('how the nests are is said', () => {
  const words = (state: Cutting['state'], nests: Cutting['nests']) =>
    nestWords(statusOf({ state, nests, said: '4 mm, grid' }));
  assert.equal(words('working', 'none'), 'Working: 4 mm, grid.');
  assert.match(words('working', 'quick'), /^Quick nests; better/);
  assert.match(words('cancelled', 'quick'), /stopped/);
  assert.equal(words('none', 'none'), '');
});

test('a draw-in is a range, one figure, or none', () => {
  const words = (low: number, high: number) => drawnIn(cutPieceOf({ draws_in_mm: [low, high] }));
  assert.match(words(0.8, 1.6), /by 0\.8 to 1\.6 mm, which the contour does not/);
  assert.match(words(15.2, 15.2), /by 15\.2 mm, which the contour does not/);
  assert.match(words(0, 0), /^No weld/);
});

test('readings in millimetres become the document once every distance is there', () => {
  const row = (key: string, read_mm: number | null) => ({
    key,
    words: '',
    read_mm,
    drawn_mm: 0,
    fitted_mm: null,
  });
  const opening = cutOpeningOf({
    readings: [row('side_port_m', 2400), row('across_aft_m', null), row('sheer_mm', null)],
  });
  const typed = (...rows: [string, string][]) => openingAsRead(opening, new Map(rows));
  assert.equal(typed(), undefined);
  assert.equal(typed(['across_aft_m', '16oo']), undefined);
  assert.deepEqual(typed(['across_aft_m', '1600,5']), {
    side_port_m: 2.4,
    across_aft_m: 1.6005,
  });
  assert.deepEqual(typed(['across_aft_m', '1600'], ['sheer_mm', '-3'])?.sheer_mm, -3);
});
