import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { HeadroomResult, SightResult } from '../../contract.ts';
import { blindWords, changeWords, housesOf, sectorsWords, shortWords } from './person.ts';

const room: HeadroomResult = {
  id: 'house',
  stage: 'refit',
  least_m: 1.7,
  least_x_m: 4,
  least_off_centre_m: 1.69,
  spare_m: -0.08,
  low: [{ where: 'middle', from_x_m: 3.5, to_x_m: 4.25 }],
  stations: [],
};
const sight: SightResult = {
  id: 'departure',
  stage: 'refit',
  posture: 'standing',
  blind_m: 24,
  blind_lengths: 2,
  blind_over_hull_m: 12,
  eye_above_water_m: 2.2,
  down_deg: 3,
  over: 'changes.deckhouse.parts.house',
  eye_m: [8, 0, 2.2],
  over_m: [4, 0, 1.9],
  water_m: [-25, 0, 0],
  why: '',
  changes: [],
};

test('where headroom is short is said with its place, and enough is said too', () => {
  assert.equal(shortWords(room), 'short by 80 mm at most: x 3.50 m to 4.25 m');
  assert.equal(shortWords({ ...room, spare_m: 0.1, low: [] }), 'standing headroom everywhere');
});

test('what hides the water is named, the bow by its word, and why none is seen', () => {
  assert.equal(blindWords(sight), '24.0 m of water hidden ahead (2.0 boat lengths), over house');
  assert.match(blindWords({ ...sight, over: 'hull' }), /over the bow$/);
  const none = { ...sight, blind_m: null, blind_lengths: null, why: 'No water can be seen ahead.' };
  assert.equal(blindWords(none), 'No water can be seen ahead.');
});

test('what would show the water is a higher eye or a lower roof, where that alone does', () => {
  const change = { id: '2-lengths', blind_m: 20, eye_higher_m: 0.12, obstacle_lower_m: 0.05 };
  assert.match(changeWords(change, sight), /eye 120 mm higher, or house 50 mm lower\.$/);
  assert.match(changeWords({ ...change, obstacle_lower_m: null }, sight), /would not show it\.$/);
  assert.equal(changeWords({ ...change, eye_higher_m: 0 }, sight), '');
});

test('sectors are told from their first to their last degree, narrow ones left out', () => {
  const of = (over: string, from_deg: number, to_deg: number) =>
    ({ id: '1', stage: 'refit', posture: 'standing', over, from_deg, to_deg }) as const;
  assert.equal(
    sectorsWords([
      of('existing.old-house', -30, -2),
      of('a.parts.rail', -2, 1),
      of('existing.old-house', 1, 12),
    ]),
    'old house from 30° to port to 12° to starboard',
  );
});

test('a raised house stands beside the old one', () => {
  const old = { ...room, id: 'old-house', stage: 'as_found' as const };
  const person = { headroom: [old, room] };
  const full = {
    height_m: 1.78,
    sole_given: 'entered',
    sole: [],
    helms: [],
    sights: [],
    hidden: [],
  } as const;
  assert.deepEqual(housesOf({ ...full, ...person }), [{ now: room, before: old }]);
});
