/** Terms of her shape: camber and tumblehome. */
import { at, type Mapping, numberOr } from '../../shared/boat/document.ts';
import { quantity } from '../../shared/words/numbers.ts';
import type { GuideTerm } from '../facts.ts';

function camberWords(document: Mapping): readonly string[] {
  const crown = numberOr(at(document, 'hull.deck.camber_m'), 0);
  const half = numberOr(at(document, 'hull.deck.at_half_breadth_m'), 0);
  if (crown <= 0 || half <= 0) return ['Hers is entered as none: a flat deck.'];
  return [
    `Hers: ${quantity(crown, 'm', 0.001)}, measured where the half-breadth is ${quantity(half, 'm', 0.01)}.`,
  ];
}

export const SHAPE_TERMS: readonly GuideTerm[] = [
  {
    id: 'camber',
    title: 'Camber',
    also: 'crown deck roof beam',
    meaning: [
      'The crown of a deck or a roof: how much higher its middle stands than its edge. It sheds water and stiffens the plate.',
    ],
    own: ({ document }) => camberWords(document),
    sketch: 'camber',
  },
  {
    id: 'tumblehome',
    title: 'Tumblehome and flare',
    also: 'side leaning in out topsides house',
    meaning: [
      'A side that leans inwards as it goes up has tumblehome; one that leans outwards has flare. House sides lean in too, which is given in degrees from upright.',
      'In the drawing, a side that stands outside the upright line through the deck’s edge has tumblehome, one that stays inside it has flare.',
    ],
    sketch: 'sides',
  },
];
