/** A table of a file with a decimal comma, its cells parted by semicolons, as a server writes it. */

export const withComma = (table: string): string =>
  table.replaceAll(CELL, (_, quoted: string | undefined, plain: string, end: string) => {
    const cell = quoted?.replaceAll('""', '"') ?? plain;
    const written = NUMBER.test(plain) ? plain.replace('.', ',') : cell;
    const inQuotes = /[";\n\r]/.test(written) ? `"${written.replaceAll('"', '""')}"` : written;
    return inQuotes + (end === ',' ? ';' : end);
  });

const CELL = /(?:"((?:[^"]|"")*)"|([^",\n]*))(,|\n|$)/g;
const NUMBER = /^-?\d+(\.\d+)?(e[+-]?\d+)?$/;
