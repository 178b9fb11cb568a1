/** What a text of the document may name: other things in it. */
import type { DocumentGrammar, DocumentPointer } from '../../contract.ts';
import { isMapping, type Mapping } from '../boat/document.ts';
import { lastKey } from '../words/plain-words.ts';

/** Dotted paths of everything a pattern fits; `*` stands for any one step. */
function pathsOf(document: unknown, pattern: string): readonly string[] {
  let found: readonly (readonly [string, unknown])[] = [['', document]];
  for (const step of pattern.split('.')) {
    found = found.flatMap(([path, value]) => {
      if (!isMapping(value)) return [];
      const keys = Object.keys(value).filter((key) => step === '*' || step === key);
      return keys.map((key) => [path ? `${path}.${key}` : key, value[key]] as const);
    });
  }
  return found.map(([path]) => path);
}

const fits = (pattern: string, place: string): boolean => {
  const steps = place.split('.');
  const wanted = pattern.split('.');
  return (
    wanted.length === steps.length && wanted.every((one, i) => one === '*' || one === steps[i])
  );
};

/** What names something at a place of the document, as its value or as its key. */
export const pointerAt = (
  { pointers }: DocumentGrammar,
  place: string,
  isKey = false,
): DocumentPointer | undefined =>
  pointers.find((one) => one.is_key === isKey && fits(one.pattern, place));

/** What a pointer may name from a place, in the document's order. */
export function choicesFor(
  { words, choices }: DocumentPointer,
  place: string,
  document: Mapping,
): readonly string[] {
  const same = place.split('.')[1] ?? '';
  const named = choices.flatMap(({ pattern, template }) =>
    pathsOf(document, pattern.replace('{same}', same))
      // nothing is like itself, nor stands on itself
      .filter((path) => !place.startsWith(`${path}.`))
      .map((path) => template.replace('{name}', lastKey(path)).replace('{path}', path)),
  );
  return [...new Set([...words, ...named])];
}

/** A choice in words: the last steps of a path are what it is called. */
export const choiceWords = (choice: string): string =>
  choice
    .replace(/^existing\./, 'existing ')
    .replace(/^changes\.([^.]+)\.parts\.([^.]+)$/, '$2 ($1)')
    .replace(/_(m|mm|deg|kg)$/, ' ($1)')
    .replaceAll(/[-_.]/g, ' ');
