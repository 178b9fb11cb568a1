import assert from 'node:assert/strict';
import { test } from 'node:test';
import { editQueue } from './edit-queue.ts';

interface Step {
  readonly value: number;
  readonly gesture?: string;
}

function rig(refuse: (value: number) => boolean = () => false) {
  const sent: number[] = [];
  const answered: number[] = [];
  const failed: number[] = [];
  const doors: (() => void)[] = [];
  let settled = 0;
  const queue = editQueue<Step, number>({
    send: (edit) => {
      sent.push(edit.value);
      return new Promise((resolve, reject) => {
        doors.push(() => (refuse(edit.value) ? reject(new Error('no')) : resolve(edit.value)));
      });
    },
    answered: (_edit, answer) => answered.push(answer),
    failed: async (edit) => {
      failed.push(edit.value);
    },
    settled: () => {
      settled += 1;
    },
  });
  const open = async () => {
    doors.shift()?.();
    await new Promise((resolve) => setImmediate(resolve));
  };
  return { queue, sent, answered, failed, open, settled: () => settled };
}

test('the first goes at once, of a drag only the newest waits', async () => {
  const { queue, sent, answered, open, settled } = rig();
  for (const value of [1, 2, 3, 4]) queue.push({ value, gesture: 'drag' });
  assert.deepEqual(sent, [1]);
  await open();
  assert.deepEqual(sent, [1, 4]);
  assert.equal(settled(), 0);
  await open();
  assert.deepEqual(answered, [1, 4]);
  assert.equal(settled(), 1);
  assert.equal(queue.busy, false);
});

test("another gesture, or an edit without one, takes nobody's place", async () => {
  const { queue, sent, open } = rig();
  queue.push({ value: 1, gesture: 'a' });
  queue.push({ value: 2, gesture: 'a' });
  queue.push({ value: 3, gesture: 'b' });
  queue.push({ value: 4 });
  queue.push({ value: 5 });
  for (let i = 0; i < 5; i += 1) await open();
  assert.deepEqual(sent, [1, 2, 3, 4, 5]);
});

test('a refusal does not hold up what comes after it', async () => {
  const { queue, answered, failed, open } = rig((value) => value === 1);
  queue.push({ value: 1 });
  queue.push({ value: 2 });
  await open();
  await open();
  assert.deepEqual([failed, answered], [[1], [2]]);
});
