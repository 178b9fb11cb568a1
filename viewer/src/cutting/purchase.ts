/** What is bought, taken from the yard and sawn, in words. */
import type { CutPurchase, CutSection } from '../contract.ts';
import { quantity } from '../shared/words/numbers.ts';
import { sizeWords } from '../shared/words/plain-words.ts';
import { materialWords } from '../shared/words/units.ts';

/** What is cut into: bought, and out of the yard. */
export function takenWords({ buy, leftovers }: CutPurchase): string {
  const yard = leftovers && `from the yard: ${leftovers}`;
  return sizeWords([buy, yard].filter(Boolean).join('; ')) || 'nothing';
}

/** What no stock takes; empty where everything is covered. */
export const missingWords = ({ not_covered, not_covered_kg }: CutPurchase): string =>
  not_covered && `not covered: ${not_covered} (${quantity(not_covered_kg, 'kg', 0.1)})`;

/** How many bars of a section are bought, and whether less could do. */
export const sectionWords = ({ section, buy, bound }: CutSection): string =>
  buy
    ? `${materialWords(section)}: ${buy}, ${bound}.`
    : `${materialWords(section)}: no bar in stock is long enough.`;
