/** A grid of texts: typed cell by cell, or pasted from a spreadsheet; read by the server. */
import { useId } from 'preact/hooks';

interface Props {
  readonly label: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly set: (rows: readonly (readonly string[])[]) => void;
  /** What deletes a row, where more hangs on it than the row. */
  readonly deleted?: (row: number) => void;
}

export function TextGrid({ label, columns, rows, set, deleted }: Props) {
  const id = useId();
  const blank = columns.map(() => '');
  const put = (i: number, j: number, text: string) =>
    set(rows.with(i, (rows[i] ?? blank).with(j, text)));
  const paste = (i: number, j: number, text: string) => {
    const given = text.replace(/\r/g, '').replace(/\n$/, '').split('\n');
    const cells = given.map((line) => line.split('\t'));
    const longest = Math.max(rows.length, i + cells.length);
    set(
      Array.from({ length: longest }, (_, row) =>
        blank.map((_, column) => cells[row - i]?.[column - j] ?? rows[row]?.[column] ?? ''),
      ),
    );
  };
  return (
    <fieldset class="scrolls">
      <legend>{label}</legend>
      <table class="text-grid">
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column} scope="col">
                {column}
              </th>
            ))}
            <td />
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            <tr key={i}>
              {columns.map((column, j) => (
                <td key={column}>
                  <label class="unseen" for={`${id}-${i}-${j}`}>
                    {label}, {column}, {i + 1}
                  </label>
                  <input
                    id={`${id}-${i}-${j}`}
                    value={row[j] ?? ''}
                    autocomplete="off"
                    onInput={(e) => put(i, j, e.currentTarget.value)}
                    onPaste={(e) => {
                      const text = e.clipboardData?.getData('text') ?? '';
                      if (!/[\t\n]/.test(text.trim())) return;
                      e.preventDefault();
                      paste(i, j, text);
                    }}
                  />
                </td>
              ))}
              <td>
                <button
                  type="button"
                  class="quiet"
                  aria-label={`Delete row ${i + 1} of ${label}`}
                  onClick={() => (deleted ? deleted(i) : set(rows.toSpliced(i, 1)))}
                >
                  delete
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <button type="button" class="quiet" onClick={() => set([...rows, blank])}>
        add a row
      </button>
    </fieldset>
  );
}

/** A grid as text that the server reads as a table. */
export const gridText = (
  columns: readonly string[],
  rows: readonly (readonly string[])[],
): string =>
  [columns, ...rows.filter((row) => row.some((cell) => cell.trim() !== ''))]
    .map((row) => row.join('\t'))
    .join('\n');
