/** Terms of her shape: camber and tumblehome. */
import { at, type Mapping, numberOr } from '../../shared/boat/document.ts';
import { TERMS } from '../../shared/words/meanings.ts';
import { quantity } from '../../shared/words/numbers.ts';
import type { GuideTerm } from '../facts.ts';

function camberWords(document: Mapping): readonly string[] {
  const crown = numberOr(at(document, 'hull.deck.camber_m'), 0);
  const half = numberOr(at(document, 'hull.deck.at_half_breadth_m'), 0);
  if (crown <= 0 || half <= 0) return ['None is entered: her deck counts as flat.'];
  return [
    `Hers: ${quantity(crown, 'm', 0.001)}, measured where the half-breadth is ${quantity(half, 'm', 0.01)}.`,
  ];
}

export const SHAPE_TERMS: readonly GuideTerm[] = [
  {
    id: 'camber',
    ...TERMS.camber,
    also: 'crown deck roof beam',
    own: ({ document }) => camberWords(document),
    sketch: 'camber',
  },
  {
    id: 'tumblehome',
    ...TERMS.tumblehome,
    also: 'side leaning in out topsides house',
    sketch: 'sides',
  },
];
