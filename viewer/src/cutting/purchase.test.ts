import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { CutPurchase } from '../contract.ts';
import { cutPurchaseOf, cutSectionOf } from '../testing/cutting.ts';
import { missingWords, sectionWords, takenWords } from './purchase.ts';

const row = (more: Partial<CutPurchase>) =>
  cutPurchaseOf({ buy: '', leftovers: '', not_covered: '', not_covered_kg: 0, ...more });

test('bought stock is listed apart from yard leftovers', () => {
  assert.equal(takenWords(row({ buy: '2 of 3 x 1.5 m' })), '2 of 3 × 1.5 m');
  assert.equal(takenWords(row({ leftovers: 'ten leftover 1' })), 'from the yard: ten leftover 1');
  assert.equal(takenWords(row({ buy: '1 of 6 m', leftovers: 'L' })), '1 of 6 m; from the yard: L');
  assert.equal(takenWords(row({})), 'nothing');
});

test('what no stock takes is named with its weight', () => {
  assert.equal(missingWords(row({})), '');
  assert.equal(
    missingWords(row({ not_covered: 'A, B', not_covered_kg: 12.34 })),
    'not covered: A, B (12.3 kg)',
  );
});

test('bars are said with their bound', () => {
  const bars = { section: 'flat 40 x 4', buy: '3 of 6 m', bound: 'proven the fewest' };
  assert.equal(sectionWords(cutSectionOf(bars)), 'flat 40 × 4 mm: 3 of 6 m, proven the fewest.');
  assert.match(sectionWords(cutSectionOf({ ...bars, buy: '' })), /no bar in stock/);
});
