import assert from 'node:assert/strict';
import { test } from 'node:test';
import { backToFront, type Deep, DepthBuffer } from './depth-buffer.ts';
import { seenRuns, svgOf } from './svg.ts';

const square = (from: number, to: number, depth: number): readonly Deep[] => [
  [from, from, depth],
  [to, from, depth],
  [to, to, depth],
  [from, to, depth],
];

test('of a line behind a face the middle is hidden', () => {
  const buffer = new DepthBuffer(100, 100);
  buffer.draw(square(30, 70, 0.2), 0);
  const behind = seenRuns(
    [
      [0, 50, 0.5],
      [100, 50, 0.5],
    ],
    (at) => buffer.isSeen(at),
  );
  assert.equal(behind.length, 8); // two runs
  assert.ok(Math.abs((behind[2] ?? 0) - 30) < 4 && Math.abs((behind[4] ?? 0) - 70) < 4);
  const before = seenRuns(
    [
      [0, 50, 0.1],
      [100, 50, 0.1],
    ],
    (at) => buffer.isSeen(at),
  );
  assert.deepEqual(before, [0, 50, 100, 50]);
});

test('faces go from the back to the front by what lies over what, not by their middles', () => {
  // the large one is nearer in its middle, the small one lies before it where they meet
  const faces = new Map([
    [0, { over: new Map([[1, 40]]), depth: 0.3 }],
    [1, { over: new Map<number, number>(), depth: 0.6 }],
  ]);
  assert.deepEqual(backToFront(faces), [0, 1]);
  const circle = new Map([
    [0, { over: new Map([[1, 5]]), depth: 0.5 }],
    [1, { over: new Map([[0, 5]]), depth: 0.4 }],
  ]);
  assert.deepEqual(backToFront(circle), [0, 1]);
});

test('a face that is wholly hidden is left out of the drawing, words are safe in it', () => {
  const face = (depth: number, fill: string) => ({
    corners: square(depth < 0.5 ? 10 : 20, depth < 0.5 ? 90 : 60, depth),
    fill,
    opacity: 1,
    isUnder: false,
  });
  const svg = svgOf({
    ...{ width: 100, height: 100, paper: undefined, ink: '#000', strokes: [], sea: undefined },
    ...{ isThrough: false, isFromBelow: false, caption: 'Sea & "Sky" <3' },
    faces: [face(0.2, '#aaaaaa'), face(0.8, '#bbbbbb')],
  });
  assert.ok(svg.includes('#aaaaaa') && !svg.includes('#bbbbbb'));
  assert.ok(svg.includes('Sea &amp; &quot;Sky&quot; &lt;3'));
});
