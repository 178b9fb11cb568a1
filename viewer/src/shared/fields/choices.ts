/** What a text of the document may name: other things in it. */
import type { DocumentGrammar, DocumentPointer } from '../../contract.ts';
import { at, isMapping, type Mapping, mapping } from '../boat/document.ts';
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

/** A place of a change that an option adds, as where it stands once the option is chosen. */
const chosen = (place: string): string => place.replace(OF_OPTION, 'changes.');
const OF_OPTION = /^options\.[^.]+\.adds\./;

/** The document with the changes of the option that a place is in. */
function underOption(document: Mapping, place: string): Mapping {
  if (!OF_OPTION.test(place)) return document;
  const added = at(document, place.split('.').slice(0, 3).join('.'));
  return { ...document, changes: { ...mapping(document.changes), ...mapping(added) } };
}

/** What names something at a place of the document, as its value or as its key. */
export const pointerAt = (
  { pointers }: DocumentGrammar,
  place: string,
  isKey = false,
): DocumentPointer | undefined =>
  pointers.find((one) => one.is_key === isKey && fits(one.pattern, chosen(place)));

/** What a pointer may name from a place, in the document's order. */
export function choicesFor(
  { words, choices }: DocumentPointer,
  written: string,
  document: Mapping,
): readonly string[] {
  const place = chosen(written);
  const whole = underOption(document, written);
  const same = place.split('.')[1] ?? '';
  const named = choices.flatMap(({ pattern, template }) =>
    pathsOf(whole, pattern.replace('{same}', same))
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
    .replace(/^changes\.([^.]+)\.parts\.([^.]+)\.([^.]+)_m$/, '$2 ($1), $3')
    .replace(/^(existing [^.]+)\.([^.]+)_m$/, '$1, $2')
    .replace(/_(m|mm|deg|kg)$/, ' ($1)')
    .replaceAll(/[-_.]/g, ' ');
