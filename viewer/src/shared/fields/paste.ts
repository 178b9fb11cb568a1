/** Cells copied from a spreadsheet, read into the columns of a table. */
import { underHeading } from '../words/typed.ts';
import { typed } from './field-numbers.ts';
import type { NumberField } from './forms.ts';

interface Pasted {
  /** What was read, row by row, of the columns from the first on. */
  readonly rows: readonly (readonly number[])[];
  /** What was not understood, one sentence for each cell; nothing is taken where there is any. */
  readonly misread: readonly string[];
}

/** Whether a text holds several cells, rather than one value. */
export const isSeveral = (text: string): boolean => /[\t\n;]/.test(text.trim());

/** A pasted text as rows of numbers for the columns it begins at; a first row of words is a heading, whose units count. */
export function pasted(text: string, columns: readonly NumberField[]): Pasted {
  const lines = text
    .replace(/\r/g, '')
    .split('\n')
    .map((line, i) => ({ cells: cellsOf(line), number: i + 1 }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  const isHeading = lines[0]?.cells.every((cell) => !/\d/.test(cell)) ?? false;
  const heads = isHeading ? (lines[0]?.cells ?? []) : [];
  const misread: string[] = [];
  const rows = lines.slice(isHeading ? 1 : 0).map(({ cells, number }) => {
    if (cells.length > columns.length) {
      const extra = cells.length - columns.length;
      misread.push(`Row ${number} has ${extra} more than the ${columns.length} columns from here.`);
    }
    return cells.slice(0, columns.length).map((cell, i) => {
      const column = columns[i];
      const value = column && typed(column, underHeading(cell, heads[i] ?? '', column.unit));
      if (column && value === undefined)
        misread.push(`Row ${number}, ${column.label}: “${cell}” is not a number.`);
      return value ?? NaN;
    });
  });
  if (rows.length === 0) misread.push('What was pasted contains no numbers.');
  return { rows, misread };
}

const cellsOf = (line: string): readonly string[] =>
  line.split(line.includes('\t') ? '\t' : ';').map((cell) => cell.trim());

/** Rows with pasted ones laid over them from a cell on; rows that are added must be whole. */
export function laidOver(
  rows: readonly (readonly unknown[])[],
  { rows: given }: Pasted,
  [row, column]: readonly [number, number],
): readonly (readonly unknown[])[] {
  const longest = Math.max(rows.length, row + given.length);
  return Array.from({ length: longest }, (_, i) => {
    const old = rows[i] ?? [];
    const over = given[i - row];
    if (!over) return old;
    const whole = Math.max(old.length, column + over.length);
    return Array.from({ length: whole }, (_, j) => over[j - column] ?? old[j] ?? null);
  });
}
