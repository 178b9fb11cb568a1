/** What is under the pointer, and what it does to what the boat is coloured by. */
import type { PartResult, ReplacedResult } from '../../contract.ts';
import type { Spot } from '../../scene/aim.ts';
import type { BoatAnswer } from '../../session/context.tsx';
import { countedOf, effectOrNone } from '../answer/effects.ts';
import { MEASURES, measureWords } from '../colour/measures.ts';
import type { Mode } from '../colour/paint.ts';
import { kilograms, quantity, thicknessWithUnit } from '../words/numbers.ts';
import { lastKey, title } from '../words/plain-words.ts';

export function captionOf(
  { working }: Pick<BoatAnswer, 'working'>,
  mode: Mode,
  id: string,
): string {
  const { parts, replaced } = working.assessment;
  const measure = MEASURES[mode === 'mass' || mode === 'plain' ? 'trim' : mode];
  const does = (piece: PartResult | ReplacedResult) =>
    measureWords(measure, measure.of(effectOrNone(piece)));
  const part = parts.find((one) => one.id === id);
  if (part) return `${title(id)}: ${kilograms(countedOf(part))}, ${does(part)}`;
  const gone = replaced.find((one) => one.id === id);
  return `${title(lastKey(id))}, taken away${gone ? `: ${does(gone)}` : ''}`;
}

/** Thickness and mass of the plate that was pressed; empty where it is no plate. */
export function plateWords(parts: readonly PartResult[], { piece, plate }: Spot): string {
  const id = plate?.replace(`${piece}.`, '');
  const found = parts.find((one) => one.id === piece)?.plates.find((one) => one.id === id);
  return found
    ? `${thicknessWithUnit(found.thickness_mm)}, ${quantity(found.mass_kg, 'kg', 0.1)}`
    : '';
}
