/** Finding words in the Guide: plain text, in any order, whatever their case and accents. */
import type { GuideEntry, GuidePart } from './entry.ts';

/** A piece of a text, and whether it is what is looked for. */
interface TextPiece {
  readonly text: string;
  readonly found: boolean;
}

/** Lower case without accents, sign for sign, so that places in it are places in the text. */
const folded = (text: string): string =>
  text.replace(/[^ -~]/g, (sign) => sign.normalize('NFD').charAt(0)).toLowerCase();

/** The words that are looked for. */
export const searchTerms = (query: string): readonly string[] =>
  folded(query).split(/\s+/).filter(Boolean);

const textOf = ({ title, also, meaning, own, steps, source }: GuideEntry): string =>
  folded([title, also, ...meaning, ...(own ?? []), ...(steps ?? []), source].join('\n'));

/** The parts with the entries that hold every word looked for; parts without one are left out. */
export function matching(parts: readonly GuidePart[], query: string): readonly GuidePart[] {
  const words = searchTerms(query);
  return parts
    .map((part) => ({
      ...part,
      entries: part.entries.filter((entry) => {
        const text = textOf(entry);
        return words.every((word) => text.includes(word));
      }),
    }))
    .filter(({ entries }) => entries.length > 0);
}

/** A word as a pattern that matches it alone. */
const escaped = (word: string): string => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** A text cut where a word that is looked for begins or ends. */
export function markedPieces(text: string, query: string): readonly TextPiece[] {
  const words = searchTerms(query).toSorted((a, b) => b.length - a.length);
  if (words.length === 0) return [{ text, found: false }];
  const any = new RegExp(words.map(escaped).join('|'), 'g');
  const pieces: TextPiece[] = [];
  let end = 0;
  for (const { 0: word, index } of folded(text).matchAll(any)) {
    if (index > end) pieces.push({ text: text.slice(end, index), found: false });
    end = index + word.length;
    pieces.push({ text: text.slice(index, end), found: true });
  }
  if (end < text.length) pieces.push({ text: text.slice(end), found: false });
  return pieces;
}

/** How many entries are found, as a sentence. */
export function foundWords(parts: readonly GuidePart[], query: string): string {
  if (searchTerms(query).length === 0) return '';
  const n = parts.reduce((sum, { entries }) => sum + entries.length, 0);
  const what = `“${query.trim()}”`;
  if (n === 0) return `Nothing in the guide has ${what}. Try a shorter word.`;
  return n === 1 ? `1 entry has ${what}.` : `${n} entries have ${what}.`;
}
