import assert from 'node:assert/strict';
import { test } from 'node:test';
import { hashOf, routeOf, tokenOf } from './route.ts';

test('a route survives its address', () => {
  const route = {
    page: 'ledger',
    boat: 'saltmarrow',
    condition: 'departure',
    option: 'better-plan',
    picked: { change: 'deckhouse', part: 'house' },
    revision: 2,
    comment: '9f3b7c52-0d0e-4a3e-8a53-0c1f6d0f9a11',
    section: undefined,
    entry: undefined,
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
    revision: undefined,
    comment: undefined,
    section: undefined,
    entry: undefined,
  });
});

test('the section is kept on the Boat page, which links called Hull before', () => {
  const route = routeOf('#/hull?section=keel');
  assert.equal(route.page, 'boat');
  assert.equal(hashOf(route), '#/boat?section=keel');
  assert.equal(hashOf({ ...route, page: 'float' }), '#/float');
});

test('the entry is kept in the Guide alone', () => {
  const route = routeOf('#/guide?entry=gm');
  assert.equal(hashOf(route), '#/guide?entry=gm');
  assert.equal(hashOf({ ...route, page: 'float' }), '#/float');
});

test('a link is told from a page', () => {
  const token = 'x'.repeat(43);
  assert.equal(tokenOf(`#/shared/${token}`), token);
  assert.equal(tokenOf('#/float?option=shared'), undefined);
  assert.equal(tokenOf('#/shared/short'), undefined);
});
