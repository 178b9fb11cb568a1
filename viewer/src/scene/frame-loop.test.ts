import assert from 'node:assert/strict';
import { test } from 'node:test';
import { FrameLoop } from './frame-loop.ts';

function rig(frameMs: number, samples = 0) {
  const drawn: number[] = [];
  const finer: number[] = [];
  let time = 0;
  let next: (() => void) | undefined;
  const loop = new FrameLoop({
    draw: () => drawn.push(time),
    finished: () => time >= Math.max(drawn.at(-1) ?? 0, finer.at(-1) ?? 0) + frameMs,
    improve: () => finer.length < samples && finer.push(time) > 0,
    nextFrame: (step) => {
      next = step;
      return 1;
    },
    cancel: () => {
      next = undefined;
    },
    now: () => time,
  });
  const run = (ms: number, each: () => void = () => undefined) => {
    for (const end = time + ms; time < end; time += 10) {
      each();
      const step = next;
      next = undefined;
      step?.();
    }
  };
  return { loop, drawn, finer, run };
}

test('nothing is drawn that is not asked for', () => {
  const { loop, drawn, run } = rig(5);
  run(100);
  assert.deepEqual(drawn, []);
  loop.ask();
  run(100);
  assert.equal(drawn.length, 1);
});

test('a fast renderer draws every frame', () => {
  const { loop, drawn, run } = rig(5);
  run(200, () => loop.ask());
  assert.ok(drawn.length >= 18, `${drawn.length}`);
});

test('a slow renderer rests three quarters of the time, and never falls behind', () => {
  const { loop, drawn, run } = rig(100);
  run(1000, () => loop.ask());
  assert.ok(drawn.length >= 2 && drawn.length <= 4, `${drawn.length}`);
  run(500);
  assert.ok((drawn.at(-1) ?? 0) >= 980, 'the last one asked for is drawn');
});

test('what the hand turns does not rest', () => {
  const { loop, drawn, run } = rig(100);
  run(1000, () => loop.ask('now'));
  assert.ok(drawn.length >= 8, `${drawn.length}`);
});

test('at rest it is made finer, once it has been quiet, and no further than it gets', () => {
  const { loop, finer, run } = rig(5, 4);
  run(300, () => loop.ask());
  assert.deepEqual(finer, [], 'not while it moves');
  run(400);
  assert.equal(finer.length, 4);
});
