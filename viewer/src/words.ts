/** Names: from an id to words, and back. */

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

/** An id from words: lower case, ASCII, hyphens; empty where no letter or digit is left. */
export function idOf(words: string): string {
  return words
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
}

/** Several of something: "1 plate", "9 plates". */
export const count = (n: number, one: string, many = `${one}s`): string =>
  `${n} ${n === 1 ? one : many}`;

/** The last key of a dotted path. */
export const lastKey = (path: string): string => path.slice(path.lastIndexOf('.') + 1);
