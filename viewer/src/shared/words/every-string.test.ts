import assert from 'node:assert/strict';
import { join, relative } from 'node:path';
import { test } from 'node:test';
import phrases from '../../testing/phrases.json' with { type: 'json' };
import { sourcesIn, stringsOf, textOf } from '../../testing/strings.ts';

const ROOT = join(import.meta.dirname, '../..');
const PHRASES = phrases.map(
  ([pattern = '', better = '']) => [new RegExp(pattern, 'i'), better] as const,
);
/** A unit in letters where it has a sign, and a snake-case or numbered id among other words. */
const RAW = [
  /\+\/-|\d ?deg\b|…deg\b|\b(mm|cm|m|in|ft)[23]\b(?![\w|])/,
  /[A-Za-z]{3,} (?!data-|aria-)[a-z]+(_[a-z0-9]+)+\b(?! *[:=(])|\b[a-z]+-[a-z]+-\d+\b/,
];

function faultsIn(text: string): string[] {
  const words = PHRASES.filter(([pattern]) => pattern.test(text));
  const raw = /[|\\]{1}|^[#.[]/.test(text) ? [] : RAW.filter((pattern) => pattern.test(text));
  return [...words.map(([, better]) => `say ${better}`), ...raw.map(String)];
}

test('no string reads translated, holds a raw id, or has a unit in letters', () => {
  const faults = sourcesIn(ROOT).flatMap((file) =>
    stringsOf(textOf(file), relative(ROOT, file)).flatMap(([at, text]) =>
      faultsIn(text).map((fault) => `${at}: ${fault}: ${text}`),
    ),
  );
  assert.deepEqual(faults, []);
});

test('a planted string of each kind is found', () => {
  const planted = `const a = <p class="survey state" title={\`Look at this: \${n}\`}>Wanted</p>;
    say('area in m2'); say('set side_height_m there'); say('roof-beam-1-2 is long');`;
  const texts = stringsOf(planted, 'planted.tsx').map(([, text]) => text);
  assert.equal(texts.length, 5);
  for (const text of texts) assert.notDeepEqual(faultsIn(text), [], text);
});
