/** The ledger as it is looked at: filtered, grouped, sorted, and its sums. */
import type { ChangeResult } from '../contract.ts';
import { type LedgerLine, type LedgerSection, ROLE_WORDS } from '../shared/boat/ledger.ts';
import { plainWords } from '../shared/words/plain-words.ts';

export const COLUMNS = ['what', 'how', 'kg', '±', 'x', 'y', 'z', 'from', 'effect'] as const;
export type Column = (typeof COLUMNS)[number];

/** What is new steel, plates and the allowances that go with them, is one kind. */
export const KINDS = ['comes off', 'goes on', 'moves', 'new steel'] as const;
type LedgerKind = (typeof KINDS)[number];

export const GROUPINGS = ['change', 'kind', 'none'] as const;
type Grouping = (typeof GROUPINGS)[number];

export interface LedgerView {
  readonly text: string;
  /** Id of a change; empty for all. */
  readonly change: string;
  readonly kind: LedgerKind | '';
  readonly grouping: Grouping;
  /** By which column, and whether the largest comes first; undefined: as entered. */
  readonly sort: { readonly column: Column; readonly down: boolean } | undefined;
}

export const WHOLE_LEDGER: LedgerView = {
  ...{ text: '', change: '', kind: '', grouping: 'change', sort: undefined },
};

export interface LedgerGroup {
  readonly key: string;
  readonly title: string;
  /** Whose rows they are, where they are grouped by change. */
  readonly change: ChangeResult | undefined;
  /** All of them, also those that are not shown. */
  readonly rows: readonly LedgerLine[];
  readonly shown: readonly LedgerLine[];
}

export const kindOf = ({ item }: LedgerLine): LedgerKind =>
  item.role === 'allowance' ? 'new steel' : ROLE_WORDS[item.role];

export const isFiltered = ({ text, change, kind }: LedgerView): boolean =>
  text.trim() !== '' || change !== '' || kind !== '';

/** Whether a row is shown: every word of the text is found in what it says. */
export function shows({ text, change, kind }: LedgerView, row: LedgerLine): boolean {
  if (change !== '' && row.item.change !== change) return false;
  if (kind !== '' && kindOf(row) !== kind) return false;
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return true;
  const own =
    `${row.name} ${plainWords(row.item.change)} ${kindOf(row)} ${row.item.provenance}`.toLowerCase();
  return words.every((word) => own.includes(word));
}

type EffectOf = (row: LedgerLine) => number | undefined;

const VALUES: Readonly<Record<Column, (row: LedgerLine, effect: EffectOf) => string | number>> = {
  what: (row) => row.name,
  how: (row) => kindOf(row),
  kg: ({ item }) => item.mass_kg,
  '±': ({ item }) => item.plus_minus_kg,
  x: ({ item }) => item.at_m[0],
  y: ({ item }) => item.at_m[1],
  z: ({ item }) => item.at_m[2],
  from: ({ item }) => item.provenance,
  effect: (row, effect) => effect(row) ?? 0,
};

/** Rows in the order of a column; those that are alike stay as they were entered. */
function sorted(
  rows: readonly LedgerLine[],
  sort: LedgerView['sort'],
  effect: EffectOf,
): readonly LedgerLine[] {
  if (!sort) return rows;
  const value = VALUES[sort.column];
  const way = sort.down ? -1 : 1;
  return rows.toSorted((a, b) => {
    const [one, other] = [value(a, effect), value(b, effect)];
    return typeof one === 'number' && typeof other === 'number'
      ? way * (one - other)
      : way * String(one).localeCompare(String(other));
  });
}

/** All rows in groups, with those that are shown; an empty change stands while nothing is filtered. */
export function ledgerGroups(
  sections: readonly LedgerSection[],
  view: LedgerView,
  effect: EffectOf,
): readonly LedgerGroup[] {
  const group = (
    key: string,
    own: readonly LedgerLine[],
    change: ChangeResult | undefined,
  ): LedgerGroup => {
    const rows = sorted(own, view.sort, effect);
    return { key, title: key, change, rows, shown: rows.filter((row) => shows(view, row)) };
  };
  if (view.grouping === 'change')
    return sections.map(({ change, rows }) => group(change.id, rows, change));
  const all = sections.flatMap(({ rows }) => rows);
  const kinds = view.grouping === 'kind' ? KINDS : [''];
  return kinds
    .map((kind) =>
      group(
        kind,
        all.filter((row) => kind === '' || kindOf(row) === kind),
        undefined,
      ),
    )
    .filter(({ rows }) => rows.length > 0);
}

/** Whether a group stands on the page: an empty change only while nothing is filtered. */
export const stands = ({ change, shown }: LedgerGroup, view: LedgerView): boolean =>
  shown.length > 0 || (change !== undefined && !isFiltered(view));

export interface LedgerSums {
  readonly rows: number;
  readonly on_kg: number;
  readonly off_kg: number;
  readonly moved_kg: number;
  readonly net_kg: number;
}

/** What some rows add up to. */
export function sumsOf(rows: readonly LedgerLine[]): LedgerSums {
  const of = (kinds: readonly LedgerKind[]) =>
    rows
      .filter((row) => kinds.includes(kindOf(row)))
      .reduce((sum, { item }) => sum + item.mass_kg, 0);
  const [on_kg, off_kg] = [of(['goes on', 'new steel']), of(['comes off'])];
  return { rows: rows.length, on_kg, off_kg, moved_kg: of(['moves']), net_kg: on_kg - off_kg };
}

/** The sort after its column's head is pressed: up, down, as entered. */
export function nextSort(sort: LedgerView['sort'], column: Column): LedgerView['sort'] {
  if (sort?.column !== column) return { column, down: false };
  return sort.down ? undefined : { column, down: true };
}
