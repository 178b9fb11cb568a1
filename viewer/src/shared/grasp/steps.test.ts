import assert from 'node:assert/strict';
import { test } from 'node:test';
import { writeIn } from '../words/writing.ts';
import { lengthField } from './dimension.ts';
import { apart, atItsEnd, dragged, type GraspAxis, graspStep, stepped } from './steps.ts';

const axis = (way: readonly [number, number], low = -Infinity, high = Infinity): GraspAxis => ({
  field: lengthField('height'),
  low,
  high,
  way,
});
const UP = axis([0, -50], 0.05, 2); // 50 px a metre, upwards
const SLANTED = axis([40, 30]); // as an axis in three dimensions is seen
const POINT = [axis([100, 0]), axis([0, -100])];
const key = (name: string, shiftKey = false) => ({ key: name, shiftKey });

test('a hand moves it along its axis alone, on whole steps', () => {
  assert.deepEqual(dragged([UP], [0.58], [200, -10], 0.01), [0.78]);
  assert.deepEqual(dragged([UP], [0.58], [200, 0], 0.01), [0.58]);
  assert.deepEqual(dragged([UP], [0.583], [0, -10], 0.01), [0.78]);
  assert.deepEqual(dragged([SLANTED], [1], [40, 30], 0.01), [2]);
  assert.deepEqual(dragged([SLANTED], [1], [-30, 40], 0.01), [1]);
  assert.deepEqual(dragged([UP], [0.5], [0, -13], 0.1), [0.8]);
});

test('a point goes both ways, and a number that the hand does not move stays as it was', () => {
  assert.deepEqual(dragged(POINT, [1.234, 0.567], [10, 0], 0.01), [1.33, 0.567]);
  assert.deepEqual(dragged(POINT, [1.234, 0.567], [0, 10], 0.01), [1.234, 0.47]);
});

test('it goes no further than its range, nor back into one that it was out of', () => {
  assert.deepEqual(dragged([UP], [0.58], [0, 500], 0.01), [0.05]);
  assert.deepEqual(dragged([UP], [0.58], [0, -500], 0.01), [2]);
  assert.deepEqual(dragged([UP], [2.4], [0, 5], 0.01), [2.3]);
  assert.deepEqual(stepped([UP], [1.995], key('ArrowUp')), [2]);
  assert.equal(atItsEnd([UP], [2]), UP);
  assert.equal(atItsEnd([UP], [1.99]), undefined);
});

test('keys go the way they point on the page; across the axis up and right are more', () => {
  const fromForward = axis([-60, 4]); // a platform that grows to the left
  assert.deepEqual(stepped([fromForward], [1], key('ArrowLeft')), [1.01]);
  assert.deepEqual(stepped([fromForward], [1], key('ArrowRight')), [0.99]);
  assert.deepEqual(stepped([fromForward], [1], key('ArrowUp')), [1.01]);
  assert.deepEqual(stepped([axis([0, 60])], [1], key('ArrowDown', true)), [1.1]);
  assert.deepEqual(stepped([UP], [1], key('PageDown')), [0.9]);
  assert.deepEqual(stepped(POINT, [1, 2], key('ArrowUp')), [1, 2.01]);
  assert.deepEqual(stepped(POINT, [1, 2], key('ArrowLeft', true)), [0.9, 2]);
  assert.equal(stepped([UP], [1], key('a')), undefined);
});

test('in feet and inches it steps by half an inch and four', () => {
  assert.deepEqual([graspStep(false), graspStep(true)], [0.01, 0.1]);
  writeIn({ units: 'feet and inches', decimal: '.' });
  assert.ok(
    Math.abs(graspStep(false) - 0.0127) < 1e-9 && Math.abs(graspStep(true) - 0.1016) < 1e-9,
  );
  writeIn({ units: 'metric', decimal: '.' });
});

test('of handles that would lie on each other the first is kept', () => {
  const at = (x: number) => ({ spot: [x, 0] as const });
  assert.deepEqual(
    apart([at(0), at(20), at(30), at(50)], 26).map(({ spot }) => spot[0]),
    [0, 30],
  );
});
