/** Weights that may lie elsewhere along the boat, as what can be grasped. */
import type { ItemResult } from '../../contract.ts';
import { at } from '../boat/document.ts';
import { type FlatPoint, isPoint, type Point } from '../boat/points.ts';
import { lastKey, plainWords } from '../words/plain-words.ts';
import { lengthField } from './dimension.ts';
import { type Graspable, intoRow, ofRow } from './graspable.ts';

/** Where the document keeps the place a weight goes to. */
const placePath = (item: ItemResult): string =>
  `${item.kept_at}.${item.role === 'moved' ? 'to_m' : 'at_m'}`;

/** Where a weight goes to. */
export const placeOf = (item: ItemResult): Point => item.to_m ?? item.at_m;

/** A ledger with the weights where the hand has them, before the boat has answered. */
export const asDrawn = (
  items: readonly ItemResult[],
  draftAt: (path: string) => unknown,
): readonly ItemResult[] =>
  items.map((item) => {
    const place = item.may_lie_x_m ? draftAt(placePath(item)) : undefined;
    if (!isPoint(place)) return item;
    return item.role === 'moved' ? { ...item, to_m: place } : { ...item, at_m: place };
  });

/** A weight with a range, in a drawing in which a metre aft is so many pixels; others have none. */
export function graspableWeight(
  item: ItemResult | undefined,
  document: unknown,
  way: FlatPoint,
): Graspable | undefined {
  const range = item?.may_lie_x_m;
  if (!item || !range || !isPoint(at(document, placePath(item)))) return undefined;
  const [low, high] = range;
  return {
    path: placePath(item),
    name: plainWords(lastKey(item.path)),
    axes: [{ field: lengthField('fore-and-aft position', range), low, high, way }],
    read: ofRow(0),
    write: intoRow(0),
  };
}
