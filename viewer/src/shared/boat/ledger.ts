/** The ledger as rows: every item of every change, and where in the document it is kept. */
import type { Assessment, ChangeResult, ItemResult } from '../../contract.ts';
import type { CHANGE_GROUPS } from '../words/constants.ts';
import { lastKey, plainWords, withNames } from '../words/plain-words.ts';

export interface LedgerLine {
  readonly item: ItemResult;
  readonly name: string;
  /** Where the document keeps it; empty where it follows from something else. */
  readonly path: string;
  /** What it rises with, in words, or empty. */
  readonly rises: string;
}

export interface LedgerSection {
  readonly change: ChangeResult;
  readonly rows: readonly LedgerLine[];
}

/** What happens to a weight, in a word. */
export const ROLE_WORDS = {
  removed: 'comes off',
  added: 'goes on',
  moved: 'moves',
  part: 'new steel',
  allowance: 'allowance',
} as const satisfies Readonly<Record<ItemResult['role'], string>>;

/** The key under a change that keeps weights of a role. */
export const ROLE_KEYS = {
  removed: 'removes',
  added: 'adds',
  moved: 'moves',
} as const satisfies Partial<Record<ItemResult['role'], (typeof CHANGE_GROUPS)[number]>>;

/** The sections of the ledger, in the stated order of changes. */
export const sectionsOf = ({
  changes,
  items,
}: Pick<Assessment, 'changes' | 'items'>): readonly LedgerSection[] =>
  changes.map((change) => ({
    change,
    rows: items.filter((item) => item.change === change.id).map(rowOf),
  }));

function rowOf(item: ItemResult): LedgerLine {
  const { rises_with: rises } = item;
  return {
    item,
    path: item.kept_at,
    name: withNames(item.name),
    rises: rises && `rises with ${plainWords(lastKey(rises).replace(/_m$/, ''))}`,
  };
}
