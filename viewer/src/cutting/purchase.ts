/** What is bought, taken from the yard and sawn, in words. */
import type { CutPurchase, CutSection } from '../contract.ts';
import { number } from '../shared/words/numbers.ts';

/** What is cut into: bought, and out of the yard. */
export function takenWords({ buy, leftovers }: CutPurchase): string {
  const yard = leftovers && `from the yard: ${leftovers}`;
  return [buy, yard].filter(Boolean).join('; ') || 'nothing';
}

/** What no stock takes; empty where everything is covered. */
export const missingWords = ({ not_covered, not_covered_kg }: CutPurchase): string =>
  not_covered && `not covered: ${not_covered} (${number(not_covered_kg, 0.1)} kg)`;

/** How many bars of a section are bought, and whether less could do. */
export const sectionWords = ({ section, buy, bound }: CutSection): string =>
  buy ? `${section} mm: ${buy}, ${bound}.` : `${section} mm: no bar in stock is long enough.`;
