/** A table of numbers: typed cell by cell, or pasted from a spreadsheet in one step. */
import type { ComponentChildren } from 'preact';
import { createContext } from 'preact';
import { useContext, useId, useState } from 'preact/hooks';
import { ScrollBox } from '../feedback/scroll-box.tsx';
import { plainWords } from '../words/plain-words.ts';
import { reworded } from '../words/sentences.ts';
import { unitSign } from '../words/units.ts';
import { WhenEditable } from './editing.tsx';
import { Typed } from './field.tsx';
import type { NumberField } from './forms.ts';
import { isSeveral, laidOver, pasted } from './paste.ts';

type Cells = readonly unknown[];

interface Props {
  readonly label: string;
  readonly columns: readonly NumberField[];
  readonly rows: readonly Cells[];
  readonly fewest: number;
  /** Takes all rows, each whole, with what was done in words. */
  readonly set: (rows: readonly Cells[], what: string) => void;
  readonly refused: readonly string[];
  /** Where its rows stand in the document. */
  readonly path: string;
}

/** A column more, beside what stands at a path: such as how far each point is off. */
export interface MoreColumn {
  readonly head: string;
  readonly cell: (row: number) => ComponentChildren;
}
export const MoreColumns = createContext<(path: string) => MoreColumn | undefined>(() => undefined);

export function Table(props: Props) {
  const { label, columns, rows, fewest, set, refused } = props;
  const more = useContext(MoreColumns)(props.path);
  const [misread, setMisread] = useState<readonly string[]>([]);
  /** Rows that are begun and not whole yet; they are not sent. */
  const [begun, setBegun] = useState<readonly Cells[]>();
  const shown = begun ?? rows;
  const take = (next: readonly Cells[], what: string) => {
    const isWhole = next.every((row) => columns.every((_, i) => typeof row[i] === 'number'));
    setBegun(isWhole ? undefined : next);
    if (isWhole) set(next, what);
  };
  const paste = (
    text: string,
    [row, column]: readonly [number, number],
    over: readonly Cells[],
  ) => {
    const read = pasted(text, columns.slice(column));
    setMisread(read.misread);
    const isRead = read.misread.length === 0;
    if (isRead)
      take(laidOver(over, read, [row, column]), `${read.rows.length} rows of ${label} pasted`);
    return isRead;
  };
  const blank = columns.map(() => null);
  return (
    <div class="table-field">
      <ScrollBox label={`${label} of ${ownerOf(props.path)}`}>
        <table>
          <caption class="unseen">{label}</caption>
          <Heading columns={columns} more={more?.head} />
          <tbody>
            {shown.map((row, i) => (
              <TableRow
                key={i}
                {...{ label, columns, row, i }}
                more={more?.cell(i)}
                paste={(text, j) => isSeveral(text) && (paste(text, [i, j], shown) || true)}
                change={(cells, what) => take(shown.with(i, cells), what)}
                insert={() => setBegun(shown.toSpliced(i, 0, blank))}
                remove={
                  shown.length > fewest
                    ? () => take(shown.toSpliced(i, 1), `${label}, number ${i + 1} deleted`)
                    : undefined
                }
              />
            ))}
          </tbody>
        </table>
      </ScrollBox>
      <WhenEditable>
        <button type="button" class="quiet" onClick={() => setBegun([...shown, blank])}>
          add a row
        </button>
        <PasteAll label={label} paste={(text) => paste(text, [0, 0], [])} />
      </WhenEditable>
      {begun && <p class="about">Fill in the whole row; it is saved once no cell is empty.</p>}
      <Misread sentences={misread} />
      {refused.map((sentence) => (
        <p key={sentence} class="refused" role="alert">
          {reworded(sentence)}
        </p>
      ))}
    </div>
  );
}

/** What a table belongs to, in words: the last name above it. */
const ownerOf = (path: string) => plainWords(path.split('.').at(-2) ?? path);

function Heading({ columns, more }: Pick<Props, 'columns'> & { more: string | undefined }) {
  return (
    <thead>
      <tr>
        <th scope="col">
          <span class="unseen">number</span>
        </th>
        {columns.map((column) => (
          <th key={column.label} scope="col" class="n">
            {column.label}
            {column.unit && `, ${unitSign(column.unit)}`}
          </th>
        ))}
        {more && <th scope="col">{more}</th>}
        <td />
      </tr>
    </thead>
  );
}

interface TableRowProps extends Pick<Props, 'label' | 'columns'> {
  readonly row: Cells;
  readonly i: number;
  readonly more: ComponentChildren;
  /** Takes a pasted text at a column; answers whether it held several cells. */
  readonly paste: (text: string, column: number) => boolean;
  readonly change: (cells: Cells, what: string) => void;
  readonly insert: () => void;
  readonly remove: (() => void) | undefined;
}

function TableRow(props: TableRowProps) {
  const { label, columns, row, i, more, paste, change, insert, remove } = props;
  const id = useId();
  return (
    <tr>
      <th scope="row">{i + 1}</th>
      {columns.map((column, j) => (
        <td key={column.label} class="n">
          <label class="unseen" for={`${id}-${j}`}>
            {label}, {column.label}, {i + 1}
          </label>
          <Typed
            id={`${id}-${j}`}
            field={column}
            bare
            value={typeof row[j] === 'number' ? row[j] : undefined}
            wrong={false}
            disabled={false}
            paste={(text) => paste(text, j)}
            change={(next) =>
              change(
                columns.map((_, k) => (k === j ? next : (row[k] ?? null))),
                `${label}, ${column.label} of number ${i + 1}`,
              )
            }
          />
        </td>
      ))}
      {more !== undefined && <td>{more}</td>}
      <td>
        <WhenEditable>
          <button
            type="button"
            class="quiet"
            aria-label={`Insert above number ${i + 1} of ${label}`}
            onClick={insert}
          >
            insert
          </button>
          {remove && (
            <button
              type="button"
              class="quiet"
              aria-label={`Delete number ${i + 1} of ${label}`}
              onClick={remove}
            >
              delete
            </button>
          )}
        </WhenEditable>
      </td>
    </tr>
  );
}

/** What was not understood of a paste; nothing of it was taken. */
function Misread({ sentences }: { sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <div class="refused" role="alert">
      <p>Nothing was pasted:</p>
      <ul>
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </div>
  );
}

interface PasteProps {
  readonly label: string;
  /** Takes a text for the whole table; answers whether it was understood. */
  readonly paste: (text: string) => boolean;
}

/** A place to paste a whole table into, where there is no cell to begin at. */
function PasteAll({ label, paste }: PasteProps) {
  const [open, setOpen] = useState(false);
  const [text, setText] = useState('');
  return (
    <>
      <button type="button" class="quiet" aria-expanded={open} onClick={() => setOpen(!open)}>
        paste a table
      </button>
      {open && (
        <div class="paste">
          <label>
            <span>Rows from a spreadsheet; they replace all rows here</span>
            <textarea
              aria-label={`Rows of ${label} from a spreadsheet`}
              rows={5}
              value={text}
              onInput={(e) => setText(e.currentTarget.value)}
            />
          </label>
          <button
            type="button"
            onClick={() => {
              if (!paste(text)) return;
              setText('');
              setOpen(false);
            }}
          >
            Use these rows
          </button>
        </div>
      )}
    </>
  );
}
