/** A figure that was opened, in words: its value and unit, its inputs, where it is entered. */
import type { Explanation, Ingredient } from '../../contract.ts';
import type { Route } from '../../session/route.ts';
import { GRADE_WORDS } from '../answer/criteria.ts';
import { sectionOf } from '../boat/sections.ts';
import { gmStep, massStep, quantity, stepFor, withSpread } from '../words/numbers.ts';

const FINEST: Readonly<Record<string, number>> = {
  kg: 0.1,
  'kg m': 0.1,
  'kg m/cm': 0.1,
  'kg/cm': 0.1,
  'kg/m3': 1,
  mm: 0.1,
  deg: 0.01,
  '%': 0.1,
  s: 0.1,
};
const KEPT_DIGITS = 3;

/** A step that keeps three digits, or the finest worth showing of a unit. */
export function stepOf(value: number, unit: string): number {
  const least = FINEST[unit] ?? 0.001;
  if (value === 0) return least;
  return Math.min(least, 10 ** (Math.floor(Math.log10(Math.abs(value))) - KEPT_DIGITS + 1));
}

/** A figure with its unit, and its plus/minus where that is known. */
export function figureWords({
  path,
  value,
  unit,
  plus_minus: plusMinus,
}: Pick<Explanation, 'path' | 'value' | 'unit' | 'plus_minus'>): string {
  if (value === null) return '';
  if (plusMinus === null || plusMinus === 0) return quantity(value, unit, stepOf(value, unit));
  return withSpread(value, plusMinus, unit, stepAsOnPages(path, value, unit, plusMinus));
}

/** The step it is shown in on every page. */
function stepAsOnPages(path: string, value: number, unit: string, plusMinus: number): number {
  if (/\bgm(_at_rest|_solid)?_m$/.test(path) && !path.includes('.change.')) return gmStep(value);
  const finest = stepOf(plusMinus, unit);
  return unit === 'kg' ? massStep(plusMinus, finest) : stepFor(plusMinus, finest);
}

/** An input's number with its unit; enough digits to calculate with. */
export const inputWords = ({ value, unit }: Ingredient): string =>
  value === null ? '' : quantity(value, unit, stepOf(value, unit));

/** A grade: how the figure comes about, or how well its text is known and what that means. */
export const gradeWords = (grade: string): string =>
  GRADE_WORDS[grade] ? `${grade}: ${GRADE_WORDS[grade]}` : grade;

/** A page on which a value of the document can be seen and set; undefined where none has it. */
export function whereEntered(path: string): Partial<Route> | undefined {
  const [root, change, group, name] = path.split('.');
  if (root !== 'changes') {
    const section = sectionOf(path);
    return section && { page: 'boat', section };
  }
  if (!change || !name) return undefined;
  if (group === 'parts') return { page: 'float', picked: { change, part: name } };
  return { page: 'ledger' };
}

/** A path and those it lies in, the longest first. */
export function pathsUp(path: string): readonly string[] {
  const steps = path.split('.');
  return steps.map((_, i) => steps.slice(0, steps.length - i).join('.'));
}
