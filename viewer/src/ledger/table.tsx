/** The rows of the ledger that are shown, under heads that sort them. */
import type { ComponentChildren, VNode } from 'preact';
import { useRef } from 'preact/hooks';
import type { LedgerLine } from '../shared/boat/ledger.ts';
import { signedAmount } from '../shared/words/numbers.ts';
import { count } from '../shared/words/plain-words.ts';
import { unitSign } from '../shared/words/units.ts';
import { AddingTo, ChangeHead } from './change-rows.tsx';
import { LedgerRow } from './ledger-row.tsx';
import {
  COLUMNS,
  type Column,
  isFiltered,
  type LedgerGroup,
  type LedgerView,
  nextSort,
  shows,
  stands,
  sumsOf,
} from './view-of.ts';

interface Props {
  readonly groups: readonly LedgerGroup[];
  readonly view: LedgerView;
  readonly look: (to: Partial<LedgerView>) => void;
  readonly highlighted: string;
  readonly highlight: (path: string) => void;
}

export function LedgerTable({ groups, view, look, highlighted, highlight }: Props) {
  const rowOf = useKeptRows(highlight, view.grouping !== 'change');
  return (
    <table class="ledger-table">
      <thead>
        <tr>
          <Head column="what" {...{ view, look }} />
          <th scope="col">
            <span class="unseen">edit</span>
          </th>
          {COLUMNS.slice(1).map((column) => (
            <Head key={column} column={column} {...{ view, look }} />
          ))}
          <th scope="col">
            <span class="unseen">delete</span>
          </th>
        </tr>
      </thead>
      {groups.map((group) => (
        <tbody key={group.key} hidden={!stands(group, view)}>
          <GroupHead group={group} />
          {group.rows.map((row) =>
            rowOf(row, {
              isHighlighted: row.item.path === highlighted,
              isHidden: !shows(view, row),
            }),
          )}
          {group.change && !isFiltered(view) && <AddingTo change={group.change} />}
        </tbody>
      ))}
    </table>
  );
}

interface TableView {
  readonly isHighlighted: boolean;
  readonly isHidden: boolean;
}

interface KeptRow extends TableView {
  readonly row: LedgerLine;
  readonly saysChange: boolean;
  readonly drawn: VNode;
}

/** Rows as they were drawn last, so that only what has changed is drawn anew. */
function useKeptRows(highlight: (path: string) => void, saysChange: boolean) {
  const kept = useRef(new Map<string, KeptRow>());
  return (row: LedgerLine, { isHighlighted, isHidden }: TableView): VNode => {
    const { path } = row.item;
    const old = kept.current.get(path);
    const isSame =
      old?.row === row && old.isHighlighted === isHighlighted && old.isHidden === isHidden;
    if (isSame && old.saysChange === saysChange) return old.drawn;
    const drawn = (
      <LedgerRow key={path} {...{ row, isHighlighted, isHidden, highlight, saysChange }} />
    );
    kept.current.set(path, { row, isHighlighted, isHidden, saysChange, drawn });
    return drawn;
  };
}

const NUMBERS: readonly Column[] = ['kg', '±', 'x', 'y', 'z'];
const WORDS: Readonly<Partial<Record<Column, string>>> = { effect: 'effect on trim' };

interface ColumnHeadProps {
  readonly column: Column;
  readonly view: LedgerView;
  readonly look: (to: Partial<LedgerView>) => void;
}

/** A column's head, which sorts: up, down, as entered. */
function Head({ column, view: { sort }, look }: ColumnHeadProps) {
  const own = sort?.column === column ? sort : undefined;
  const words = column === 'kg' ? unitSign('kg') : (WORDS[column] ?? column);
  return (
    <th scope="col" class={NUMBERS.includes(column) ? 'n' : ''} aria-sort={sortWords(own)}>
      <button type="button" class="quiet" onClick={() => look({ sort: nextSort(sort, column) })}>
        {words}
        <span aria-hidden="true">{signOf(own)}</span>
      </button>
    </th>
  );
}

type Sort = LedgerView['sort'];
function sortWords(own: Sort) {
  if (!own) return 'none';
  return own.down ? 'descending' : 'ascending';
}
function signOf(own: Sort) {
  if (!own) return '';
  return own.down ? ' ▼' : ' ▲';
}

function GroupHead({ group }: { group: LedgerGroup }): ComponentChildren {
  if (group.change) return <ChangeHead change={group.change} />;
  if (group.title === '') return null;
  const sums = sumsOf(group.shown);
  const kg = group.key === 'moves' ? sums.moved_kg : sums.net_kg;
  return (
    <tr class="change-row">
      <th scope="rowgroup" colSpan={3}>
        {group.title}, {count(group.shown.length, 'row')}
      </th>
      <td class="n">{signedAmount(kg, 'kg', 1)}</td>
      <td colSpan={7} />
    </tr>
  );
}
