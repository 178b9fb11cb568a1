/** The ledger as rows: every item of every change, and where in the document it is kept. */
import type { Assessment, ChangeResult, ItemResult } from '../../contract.ts';
import { lastKey, plainWords } from '../words/plain-words.ts';
import { at, type Mapping, mapping, text } from './document.ts';

export interface Row {
  readonly item: ItemResult;
  readonly name: string;
  /** Where the document keeps it; empty where it follows from something else. */
  readonly path: string;
  /** What it rises with, in words, or empty. */
  readonly rises: string;
}

export interface Section {
  readonly change: ChangeResult;
  readonly rows: readonly Row[];
}

/** What happens to a weight, in a word. */
export const ROLE_WORDS = {
  removed: 'comes off',
  added: 'goes on',
  moved: 'moves',
  part: 'new steel',
  allowance: 'allowance',
} as const;

/** The key under a change that keeps weights of a role. */
export const ROLE_KEYS = { removed: 'removes', added: 'adds', moved: 'moves' } as const;

/** Where a figure can be from, as the document writes it. */
export const PROVENANCES = ['weighed', 'drawn', 'catalogue', 'guessed'] as const;

/** The sections of the ledger, in the stated order of changes. */
export function sectionsOf(assessment: Assessment, document: Mapping): readonly Section[] {
  return assessment.changes.map((change) => ({
    change,
    rows: assessment.items
      .filter((item) => item.change === change.id)
      .map((item) => rowOf(item, document)),
  }));
}

function rowOf(item: ItemResult, document: Mapping): Row {
  const path = keptAt(item, document);
  const rises = text(at(document, `${path}.rises_with.path`));
  return {
    item,
    path,
    name: nameOf(item, path),
    rises: rises && `rises with ${plainWords(lastKey(rises).replace(/_m$/, ''))}`,
  };
}

function nameOf(item: ItemResult, path: string): string {
  if (item.role !== 'allowance' && !isOldPlate(item)) return plainWords(lastKey(path || item.path));
  const [what = '', part = ''] = item.path.split('.').toReversed();
  return `${plainWords(what)} of ${plainWords(part)}`;
}

/** Whether it is the old steel that a new plate of the hull takes the place of. */
const isOldPlate = ({ role, path }: ItemResult): boolean =>
  role === 'removed' && path.includes('.parts.');

function keptAt(item: ItemResult, document: Mapping): string {
  if (item.role === 'allowance' || isOldPlate(item)) return '';
  if (!item.path.startsWith('survey.aboard.')) return item.path;
  const removes = mapping(at(document, `changes.${item.change}.removes`));
  const key = Object.keys(removes).find(
    (k) => text(mapping(removes[k]).aboard) === lastKey(item.path),
  );
  return key === undefined ? '' : `changes.${item.change}.removes.${key}`;
}

/** Kilograms that come off, go on and move, over all changes. */
export function totalsOf(changes: readonly ChangeResult[]) {
  const sum = (of: (c: ChangeResult) => number) => changes.reduce((kg, c) => kg + of(c), 0);
  return {
    removed: sum((c) => c.removed_kg),
    added: sum((c) => c.added_kg),
    moved: sum((c) => c.moved_kg),
    net: sum((c) => c.net_kg),
  };
}
