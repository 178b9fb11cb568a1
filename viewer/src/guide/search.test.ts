import assert from 'node:assert/strict';
import { test } from 'node:test';
import { foundWords, markedPieces, matching } from './search.ts';

const PARTS = [
  {
    id: 'words',
    title: 'Words',
    about: '',
    entries: [
      { id: 'gm', title: 'GM', also: 'metacentric height', meaning: ['Stiff or tender.'] },
      { id: 'list', title: 'List', meaning: ['A heel at rest.'], own: ['Hers: 0.3° to port.'] },
    ],
  },
  {
    id: 'measure',
    title: 'Measure',
    about: '',
    entries: [{ id: 'tape', title: 'Tape', meaning: [], steps: ['Hang a plumb line.'] }],
  },
];
const found = (query: string) =>
  matching(PARTS, query).flatMap(({ entries }) => entries.map(({ id }) => id));

test('nothing looked for is everything', () => {
  assert.deepEqual(found('  '), ['gm', 'list', 'tape']);
  assert.equal(foundWords(PARTS, ' '), '');
});

test('all words must stand in an entry, in any order, case and place', () => {
  assert.deepEqual(found('REST heel'), ['list']);
  assert.deepEqual(found('plumb'), ['tape']);
  assert.deepEqual(found('height'), ['gm']);
  assert.deepEqual(found('0.3°'), ['list']);
  assert.deepEqual(found('heel plumb'), []);
});

test('what is typed is plain text, whatever signs are in it', () => {
  assert.deepEqual(found('.*'), []);
  assert.deepEqual(markedPieces('a (b) c', '(b'), [
    { text: 'a ', found: false },
    { text: '(b', found: true },
    { text: ') c', found: false },
  ]);
});

test('hits are marked as they are written, accents and all, the longer word first', () => {
  const marked = (text: string, query: string) =>
    markedPieces(text, query)
      .filter((piece) => piece.found)
      .map((piece) => piece.text);
  assert.deepEqual(marked('Trim, trimmed, untrimmed', 'trim trimmed'), [
    'Trim',
    'trimmed',
    'trimmed',
  ]);
  assert.deepEqual(marked('The café’s ± of 5 m²', 'cafe ±'), ['café', '±']);
  const text = 'Ⅻ İzmir, é and ﬁne';
  assert.equal(
    markedPieces(text, 'z e')
      .map((piece) => piece.text)
      .join(''),
    text,
  );
});

test('how much is found is said, and that nothing is', () => {
  assert.equal(foundWords(matching(PARTS, 'heel'), 'heel'), '1 entry has “heel”.');
  assert.equal(foundWords(matching(PARTS, 'e'), 'e '), '3 entries have “e”.');
  assert.match(foundWords(matching(PARTS, 'xyz'), 'xyz'), /^Nothing in the guide has “xyz”/);
});
