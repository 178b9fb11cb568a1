/** Names: from an id to words, and back. */
import { LATIN } from './latin.ts';

/** An id as words, first letter large: `electric-drive` is "Electric drive". */
export function title(id: string): string {
  const words = plainWords(id);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** An id as words: hyphens and underscores are spaces. */
export const plainWords = (id: string): string => id.replace(/[-_]+/g, ' ');

/** An option by its name, or the base design where none is chosen. */
export const optionWords = (option: string | null): string =>
  option === null ? 'base design' : plainWords(option);

/**
 * A name in any script as a key of the document: lower case, ASCII, hyphens; `otherwise` where
 * its letters cannot be read in Latin; empty where it has no letter or digit.
 */
export function keyOf(name: string, otherwise: string): string {
  const signs = [...name.toLowerCase().normalize('NFC')].map(
    (sign) => LATIN[sign] ?? [...sign.normalize('NFKD')].map((one) => LATIN[one] ?? one).join(''),
  );
  const read = signs.join('').toLowerCase().replace(/\p{M}/gu, '');
  const key = read.replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '');
  return key || (/[\p{L}\p{N}]/u.test(name) ? otherwise : '');
}

/** The key for a name among others: what cannot be read in Latin is numbered. */
export function freeKey(
  name: string,
  otherwise: string,
  isTaken: (key: string) => boolean,
): string {
  const key = keyOf(name, otherwise);
  if (key !== otherwise || keyOf(name, '') !== '') return key;
  let number = 1;
  while (isTaken(number === 1 ? key : `${key}-${number}`)) number += 1;
  return number === 1 ? key : `${key}-${number}`;
}

/** Several of something: "1 plate", "9 plates". */
export const count = (n: number, one: string, many = `${one}s`): string =>
  `${n} ${n === 1 ? one : many}`;

/** The last key of a dotted path. */
export const lastKey = (path: string): string => path.slice(path.lastIndexOf('.') + 1);
