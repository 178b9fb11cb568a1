/** The main dimensions a first guess is made from. */
import type { NineDimensions } from '../../contract.ts';
import { numberIn } from '../fields/short-input.tsx';
import { NUMBER_WANTED } from '../words/numbers.ts';

export const HULL_TYPES: readonly (readonly [NineDimensions['hull_type'], string])[] = [
  ['single-chine', 'single chine'],
  ['multi-chine', 'two chines or more'],
  ['round', 'round bilge'],
  ['canoe-stern', 'chines and a pointed stern'],
];

export const MAIN_DIMENSIONS = [
  ['length_m', 'length over all, m'],
  ['waterline_m', 'length of the waterline, m'],
  ['beam_m', 'greatest beam, m'],
  ['displacement_kg', 'displacement without keel and rudder, kg'],
  ['freeboard_forward_m', 'freeboard at the stem, m'],
  ['freeboard_least_m', 'least freeboard, m'],
  ['freeboard_aft_m', 'freeboard at the stern, m'],
  ['transom_m', 'breadth of the transom at the deck, m (0 where it is pointed)'],
] as const;

/** The dimensions of a form, or what is still to be filled in. */
export function dimensionsIn(data: FormData): {
  readonly given?: NineDimensions;
  readonly trouble: string;
} {
  const type = HULL_TYPES.find(([one]) => one === data.get('hull_type'))?.[0];
  const number = (name: string) => numberIn(data, name);
  const missing = MAIN_DIMENSIONS.filter(([name]) => !Number.isFinite(number(name)));
  if (!type || missing.length > 0) {
    const labels = missing.map(([, label]) => label.replace(/, (m|kg).*/, ''));
    return { trouble: `Still to fill in: ${labels.join('; ')}. Type ${NUMBER_WANTED}.` };
  }
  return {
    trouble: '',
    given: {
      hull_type: type,
      length_m: number('length_m'),
      waterline_m: number('waterline_m'),
      beam_m: number('beam_m'),
      displacement_kg: number('displacement_kg'),
      water_density_kg_m3: 1025,
      freeboard_forward_m: number('freeboard_forward_m'),
      freeboard_least_m: number('freeboard_least_m'),
      freeboard_aft_m: number('freeboard_aft_m'),
      transom_m: number('transom_m'),
    },
  };
}
