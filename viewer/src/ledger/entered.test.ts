import assert from 'node:assert/strict';
import { test } from 'node:test';
import { writeIn } from '../shared/words/writing.ts';
import { entered } from './entered.ts';

const there = ['changes.arch.adds.arch-and-panels'];
const read = (text: string, change = 'arch') =>
  entered(text, { change, changes: ['arch', 'bow'], isTaken: (path) => there.includes(path) });

test('a line is a weight: name, mass, place; what is not given is as usual', () => {
  assert.deepEqual(read('Wind generator; 42,5; 10.9; 0; 3.4').weights, [
    {
      path: 'changes.arch.adds.wind-generator',
      ...{ key: 'wind-generator', name: 'Wind generator', role: 'added' },
      value: { mass_kg: 42.5, at_m: [10.9, 0, 3.4], from: 'guessed' },
    },
  ]);
  const by = read('old stove, 18 kg, 3.2, -0.8, 0.1, comes off, weighed').weights[0];
  assert.deepEqual(
    [by?.path, by?.value.at_m],
    ['changes.arch.removes.old-stove', [3.2, -0.8, 0.1]],
  );
});

test('columns of a spreadsheet are known by their headings, in any order', () => {
  const { weights, misread } = read(
    'kg\twhat\thow\t±\tx\ty\tz\tto x\tto y\tto z\tchange\n161\tchain\tmoves\t3\t0.25\t\t0.32\t1.85\t\t-0.2\tBow\n',
  );
  assert.deepEqual(misread, []);
  assert.equal(weights[0]?.path, 'changes.bow.moves.chain');
  assert.deepEqual(weights[0]?.value.to_m, [1.85, 0, -0.2]);
});

test('every bad row is told, with its number and what was read', () => {
  const { misread, weights } = read(
    [
      ...['good\t1\t2\t0\t1', '\t1\t2\t0\t1', 'b\tmuch\t2\t0\t1', 'c\t1\t\t0\t1'],
      ...['d\t1\t2\t0\t1\tflies', 'e\t1\t2\t0\t1\t\tdreamt', 'f\t1\t2\t0\t1\t\t\tstern'],
      ...['arch and panels\t1\t2\t0\t1', 'good\t1\t2\t0\t1', 'g\t-5\t2\t0\t1'],
      'h\t1\t2\t0\t1\t\t\t\t9',
    ].join('\n'),
  );
  assert.equal(weights.length, 2);
  assert.deepEqual(misread, [
    'Row 2 has no name.',
    'Row 3 has “much” for kg, which is not a number.',
    'Row 4 has no x.',
    'Row 5 says “flies”: write comes off, goes on or moves.',
    'Row 6 has the source “dreamt”: write one of weighed, drawn, catalogue, guessed.',
    'Row 7 names the change “stern”, which does not exist.',
    'Row 8 names “arch and panels”, which goes on in arch already.',
    'Row 9 names “good”, which goes on in arch already.',
    'Row 10 has a negative mass: write that it comes off instead.',
    'Row 11 has more cells than there are columns.',
  ]);
  assert.match(read('what\tkg\tcolour\nx\t1\tred').misread[0] ?? '', /Unknown heading “colour”/);
  assert.match(read('', '').misread[0] ?? '', /No weight/);
  assert.match(read('stove; 1; 2; 0; 1', '').misread[0] ?? '', /belongs to no change/);
});

test('a heading names the unit of its column, and a cell may name its own', () => {
  const { weights, misread } = read(
    'Item\tWeight (lb)\tx, ft\ty [in]\tz mm\nstove\t100\t10\t6 1/2\t120\nlamp\t5 kg\t1 m\t\t0',
  );
  assert.deepEqual(misread, []);
  const near = (value: unknown, wanted: unknown) =>
    assert.equal(JSON.stringify(value), JSON.stringify(wanted));
  near(weights[0]?.value, { mass_kg: 45.359237, at_m: [3.048, 0.1651, 0.12], from: 'guessed' });
  near(weights[1]?.value, { mass_kg: 5, at_m: [1, 0, 0], from: 'guessed' });
  near(read('what\tlb\tx\tz\nstove\t100\t3\t0').weights[0]?.value.mass_kg, 45.359237);
  assert.equal(read('weight\tkg\tx\tz\nstove\t100\t3\t0').weights[0]?.name, 'stove');
});

test('two columns of one meaning, and points for thousands beside commas, are not guessed at', () => {
  assert.deepEqual(read('what\tkg\tlb\tx\tz\na\t1\t2\t3\t0').misread, [
    'The headings “kg” and “lb” mean the same.',
  ]);
  assert.deepEqual(read('a\t1.234\t3\t0\t0\nb\t38,5\t3\t0\t0').misread, [
    'Row 1 has “1.234”, which can be read two ways beside “38,5”.',
  ]);
  assert.deepEqual(read('a\t1.234\t3\t0\t0\nb\t38.5\t3\t0\t0.160').misread, []);
});

test('in feet and pounds a heading of kilograms is kilograms', () => {
  writeIn({ units: 'feet and inches', decimal: '.' });
  const { weights } = read('what\tkg\tx, m\tz\nstove\t100\t3\t10');
  writeIn({ units: 'metric', decimal: '.' });
  assert.equal(JSON.stringify(weights[0]?.value.at_m), '[3,0,3.048]');
  assert.equal(weights[0]?.value.mass_kg, 100);
});
