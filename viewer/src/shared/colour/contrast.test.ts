import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { trimColour } from './colour.ts';
import { contrast, FILL_CONTRAST, luminance, TEXT_CONTRAST } from './contrast.ts';
import { measureColour } from './paint.ts';

const SHEET = readFileSync(new URL('../style/tokens.css', import.meta.url), 'utf8');
/** The tokens of the screen by name: those of the printed sheet come after and are left out. */
const TOKENS = new Map(
  [...(SHEET.split('[data-paper="print"]')[0] ?? '').matchAll(/^ {2}--([\w-]+): ([^;]+);/gm)].map(
    ([, name = '', value = '']) => [name, value],
  ),
);
const token = (name: string, paper: 0 | 1): string => {
  const value = TOKENS.get(name);
  assert.ok(value, `no token --${name}`);
  const [, light, dark] = /^light-dark\((#[0-9a-f]+), (#[0-9a-f]+)\)$/i.exec(value) ?? [];
  return (paper === 0 ? light : dark) ?? value; // one that is no `light-dark` is the same on both
};
const PAPERS = [
  ['light', 0],
  ['dark', 1],
] as const;

test('black on white is 21, and a colour on itself is 1', () => {
  assert.equal(contrast('#000', '#fff'), 21);
  assert.equal(contrast('rgb(28, 38, 48)', '#1c2630'), 1);
});

for (const [paper, i] of PAPERS) {
  test(`words can be read on ${paper} paper`, () => {
    const pale = ['ink', 'quiet', 'touch'].flatMap((words) =>
      ['paper', 'sheet', 'touch-paper', 'hull-fill', 'sea'].flatMap((on) => {
        const found = contrast(token(words, i), token(on, i));
        return found < TEXT_CONTRAST ? [`${words} on ${on}: ${found.toFixed(2)}`] : [];
      }),
    );
    assert.deepEqual(pale, []);
  });

  test(`the ends of every scale of effects show on ${paper} paper`, () => {
    const pale = (['trim', 'list', 'gm'] as const).flatMap((name) =>
      [-1, 1].flatMap((end) =>
        ['paper', 'sheet'].flatMap((on) => {
          const found = contrast(measureColour(name, end, 1), token(on, i));
          return found < FILL_CONTRAST ? [`${name} ${end} on ${on}: ${found.toFixed(2)}`] : [];
        }),
      ),
    );
    assert.deepEqual(pale, []);
  });
}

test('hatching is seen on every colour that goes to the bow, from the palest to the end', () => {
  for (let mm = -1; mm >= -50; mm -= 1)
    assert.ok(contrast(trimColour(mm, 50), token('hatch', 0)) >= FILL_CONTRAST, `${mm} mm`);
});

test('in grey the end that is hatched is told from the other by its lightness too', () => {
  const [, line = '', repeat = ''] =
    /transparent ([\d.]+)px ([\d.]+)px/.exec(token('hatching', 0)) ?? [];
  const share = Number(line) / Number(repeat);
  const bow = share * luminance(token('hatch', 0)) + (1 - share) * luminance(trimColour(-50, 50));
  const apart = (luminance(trimColour(50, 50)) + 0.05) / (bow + 0.05);
  assert.ok(apart >= 1.8, apart.toFixed(2));
});
