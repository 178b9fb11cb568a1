/** A thing of a list in a few words, beside its name: "deckhouse", "160 l · fresh". */
import { isMapping, mapping } from '../boat/document.ts';
import { plainWords } from '../words/plain-words.ts';
import { choiceWords } from './choices.ts';
import { withUnit } from './field-numbers.ts';
import { shownIn, variantOf } from './field-values.ts';
import type { Field, GroupField, VariantField } from './forms.ts';

const MOST = 2;

/** The first of what is given of it; empty where nothing short is. */
export function summaryOf(field: Field, value: unknown): string {
  switch (field.kind) {
    case 'number':
      return typeof value === 'number' && field.unit ? withUnit(field, value) : '';
    case 'choice':
    case 'text':
      return typeof value === 'string' ? choiceWords(value) : '';
    case 'named':
      return countOf(field.key, Object.keys(mapping(value)).length);
    case 'variant':
      return variantSummary(field, value);
    case 'group':
      return isMapping(value) ? groupSummary(field, value) : '';
    default:
      return '';
  }
}

function variantSummary(field: VariantField, value: unknown): string {
  const variant = variantOf(field, value);
  return variant ? summaryOf(variant, value) : '';
}

function groupSummary(field: GroupField, value: Readonly<Record<string, unknown>>): string {
  const kind = field.constants.kind;
  if (typeof kind === 'string') return plainWords(kind);
  return shownIn(field, value)
    .filter(({ key }) => !/^(note$|plus_minus_)/.test(key))
    .map((one) => summaryOf(one, value[one.key]))
    .filter((words) => words !== '')
    .slice(0, MOST)
    .join(' · ');
}

/** What several of a change or a condition are called. */
const COUNTED: Readonly<Record<string, readonly [string, string]>> = {
  removes: ['off', 'off'],
  adds: ['on', 'on'],
  moves: ['moved', 'moved'],
};

function countOf(key: string, many: number): string {
  if (many === 0) return '';
  const [one, several] = COUNTED[key] ?? [plainWords(key).replace(/s$/, ''), plainWords(key)];
  return `${many} ${many === 1 ? one : several}`;
}
