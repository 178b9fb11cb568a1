/** Names: from an id to words, and back. */
import { AS_SURVEYED, SURVEY } from './constants.ts';
import { LATIN } from './latin.ts';

/** An id as words, first letter large: `electric-drive` is "Electric drive". */
export function title(id: string): string {
  const words = plainWords(id);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Names as their owner typed them, by the key each became; of the boat that is looked at. */
let titles: Readonly<Record<string, string>> = {};

/** Takes the names of another boat, or of this one after an edit. */
export function callBy(given: Readonly<Record<string, string>>): void {
  titles = given;
}

/** An id as words: its name as it was typed, or hyphens and underscores as spaces. */
export const plainWords = (id: string): string => {
  if (Object.hasOwn(titles, id)) return titles[id] ?? id;
  return id === SURVEY ? AS_SURVEYED : keyWords(id);
};

/** A loading condition in a sentence: "as surveyed", "in condition departure". */
export const inCondition = (id: string): string =>
  id === SURVEY && !Object.hasOwn(titles, id) ? AS_SURVEYED : `in condition ${plainWords(id)}`;

/** A key of the grammar as words, whatever is called like it. */
export const keyWords = (key: string): string => sizeWords(key.replace(/[-_]+/g, ' '));

/** A key without the unit it ends in. */
export const withoutUnit = (key: string): string =>
  key.replace(/_(mm2?|cm2|m[23]?|kg|deg|kg_m3|l)$/, '');

/** A size with its real sign: "flat 40 × 4" of "flat 40 x 4" and of "flat 40x4". */
export const sizeWords = (words: string): string => words.replace(/(\d) ?x ?(?=\d)/g, '$1 × ');

/** A sentence of the server, which has keys in words, with the names as they were typed. */
export function withNames(sentence: string): string {
  return Object.entries(titles).reduce((text, [key, name]) => {
    const either = key.replace(/(?<=\d)-?x-?(?=\d)/g, ' × ').replaceAll('-', '[- ]');
    return text.replace(new RegExp(`(?<![\\w-])${either}(?![\\w-])`, 'gi'), () => name);
  }, sentence);
}

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

/**
 * The key for a name among others. What cannot be read in Latin is numbered, and so is a key that
 * something with another name has.
 */
export function freeKey(
  name: string,
  otherwise: string,
  isTaken: (key: string) => boolean,
): string {
  const key = keyOf(name, otherwise);
  if (key === '') return key;
  const isRead = keyOf(name, '') !== '';
  const isOther = (one: string) => Object.hasOwn(titles, one) && titles[one] !== name.trim();
  if (isRead && !isOther(key)) return key;
  let number = isRead ? 2 : 1;
  while (isTaken(`${key}-${number}`) || isOther(`${key}-${number}`)) number += 1;
  return `${key}-${number}`;
}

/** Several of something: "1 plate", "9 plates". */
export const count = (n: number, one: string, many = `${one}s`): string =>
  `${n} ${n === 1 ? one : many}`;

/** The last key of a dotted path. */
export const lastKey = (path: string): string => path.slice(path.lastIndexOf('.') + 1);
