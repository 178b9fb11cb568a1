import assert from 'node:assert/strict';
import { test } from 'node:test';
import { hashOf, routeOf } from './route.ts';

test('a route survives its address', () => {
  const route = {
    page: 'ledger',
    boat: 'saltmarrow',
    condition: 'departure',
    option: 'better-plan',
    picked: { change: 'deckhouse', part: 'house' },
  } as const;
  assert.deepEqual(routeOf(hashOf(route)), route);
});

test('an unknown address is the Float page', () => {
  assert.deepEqual(routeOf('#/nowhere'), {
    page: 'float',
    boat: undefined,
    condition: undefined,
    option: null,
    picked: undefined,
  });
});
