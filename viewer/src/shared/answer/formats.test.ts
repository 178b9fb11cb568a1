import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { heelWords, number, signed, sinkWords, trimWords } from '../words/numbers.ts';
import { input, riseWords, vanishingWords } from './criteria.ts';

type Row = readonly [how: string, value: number, step: number, text: string];

const WORDS: Readonly<Record<string, (value: number, step: number) => string>> = {
  number,
  signed,
  trim: (value) => trimWords(value),
  heel: (value) => heelWords(value),
  sinkage: (value) => sinkWords(value),
  rise: (value) => riseWords({ vcg_rise_m: value / 1000 }),
  vanishing: vanishingWords,
  short: (value) => input(value, ''),
};

test('a thousand numbers stand on a page as Python writes them', () => {
  const file = new URL('../../testing/formats.json', import.meta.url);
  const rows: readonly Row[] = JSON.parse(readFileSync(file, 'utf-8'));
  assert.equal(rows.length, 1000);
  const other = rows.filter(([how, value, step, text]) => WORDS[how]?.(value, step) !== text);
  assert.deepEqual(
    other.map((row) => [...row, WORDS[row[0]]?.(row[1], row[2])]),
    [],
  );
});
