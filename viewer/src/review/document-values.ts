/** Values of the document in words, for what changed and what made a signature stale. */
import { isMapping, type Mapping } from '../shared/boat/document.ts';
import { quantityInFull } from '../shared/words/numbers.ts';
import { count, plainWords } from '../shared/words/plain-words.ts';

/** A value of the document in words; nothing is a dash. */
export function documentValueWords(value: unknown): string {
  if (value === null || value === undefined) return '–';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return quantityInFull(value, '');
  if (Array.isArray(value)) return listWords(value);
  return isMapping(value) ? mappingWords(value) : String(value);
}

function listWords(values: readonly unknown[]): string {
  const words = values.slice(0, 6).map(documentValueWords).join('; ');
  return values.length > 6 ? `${words}… (${count(values.length, 'entry', 'entries')})` : words;
}

const mappingWords = (values: Mapping): string =>
  Object.entries(values)
    .map(([key, one]) => `${plainWords(key)} ${documentValueWords(one)}`)
    .join(', ');
