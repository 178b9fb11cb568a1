import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { PartHandle, PartKind } from '../../contract.ts';
import { found, itemOf } from '../../testing/answers.ts';
import { dimensionsOf, graspable } from './dimension.ts';
import { valueWords } from './graspable.ts';
import { asDrawn, graspableWeight } from './weight.ts';

const number = (more: object) => ({ type: 'number', minimum: 0.05, maximum: 4, ...more });
const KIND: PartKind = {
  kind: 'cockpit',
  title: '',
  about: '',
  example: {},
  parameters: {
    properties: {
      coaming_m: number({ title: 'Coaming' }),
      well_m: {
        title: 'Well',
        type: 'array',
        prefixItems: [number({ title: 'length' }), number({ title: 'width' })],
      },
    },
  },
};
const handle = (more: Partial<PartHandle>): PartHandle => ({
  path: 'changes.aft.parts.well.coaming_m',
  index: null,
  change: 'aft',
  part: 'well',
  kind: 'cockpit',
  at_m: [8, 0, 1],
  moves_m: [0, 0, 1],
  is_main: true,
  ...more,
});
const LENGTH = handle({ path: 'changes.aft.parts.well.well_m', index: 0, is_main: false });

test('main handles are there always, the others of the part that is picked, first', () => {
  const other = handle({ part: 'other', path: 'changes.aft.parts.other.coaming_m' });
  const names = (picked?: { change: string; part: string }) =>
    dimensionsOf([other, LENGTH, handle({})], [KIND], picked).map((one) => one.name);
  assert.deepEqual(names(), ['other coaming', 'well coaming']);
  assert.deepEqual(names({ change: 'aft', part: 'well' }), [
    'well coaming',
    'well well length',
    'other coaming',
  ]);
});

test('one number of a row is read, and put back beside the others', () => {
  const [dimension] = dimensionsOf([LENGTH], [KIND], { change: 'aft', part: 'well' });
  const one = graspable(found(dimension), [50, 0]);
  assert.deepEqual(one.read([2.4, 1.6]), [2.4]);
  assert.deepEqual(one.write([2.5], [2.4, 1.6]), [2.5, 1.6]);
  assert.equal(one.read(undefined), undefined);
  assert.equal(valueWords(one, [2.4]), '2400 mm');
  assert.deepEqual([one.axes[0]?.low, one.axes[0]?.high], [0.05, 4]);
});

test('a kind or a dimension that is not known has no handle', () => {
  assert.deepEqual(dimensionsOf([handle({ kind: 'arch' })], [KIND], undefined), []);
  assert.deepEqual(dimensionsOf([handle({ path: 'a.b.no_m' })], [KIND], undefined), []);
});

const BANK = itemOf({
  path: 'changes.drive.adds.bank',
  kept_at: 'changes.drive.adds.bank',
  role: 'added',
  at_m: [5, 0, -0.4],
  may_lie_x_m: [3.5, 7],
});
const CHAIN = { ...BANK, role: 'moved' as const, to_m: [2, 0, 0] as const };
const kept = (bank: object) => ({ changes: { drive: { adds: { bank } } } });

test('a weight is dragged where it has a range and its own place, at the end where it goes', () => {
  const one = found(graspableWeight(BANK, kept({ at_m: [5, 0, -0.4] }), [50, 0]));
  assert.equal(one.path, 'changes.drive.adds.bank.at_m');
  assert.deepEqual(one.write([4], [5, 0, -0.4]), [4, 0, -0.4]);
  assert.deepEqual([one.axes[0]?.low, one.axes[0]?.high], [3.5, 7]);
  assert.equal(
    graspableWeight({ ...BANK, may_lie_x_m: null }, kept({ at_m: [5, 0, 0] }), [1, 0]),
    undefined,
  );
  assert.equal(graspableWeight(BANK, kept({ box_m: {} }), [1, 0]), undefined);
  const moved = graspableWeight(CHAIN, kept({ to_m: [2, 0, 0] }), [50, 0]);
  assert.equal(moved?.path, 'changes.drive.adds.bank.to_m');
});

test('a dragged weight is drawn where the hand has it, its other end where it was', () => {
  const draft = (path: string) => (path.endsWith('m') ? [4, 0, 0] : undefined);
  assert.deepEqual(asDrawn([BANK], draft)[0]?.at_m, [4, 0, 0]);
  const [moved] = asDrawn([CHAIN], draft);
  assert.deepEqual(
    [moved?.at_m, moved?.to_m],
    [
      [5, 0, -0.4],
      [4, 0, 0],
    ],
  );
  assert.deepEqual(asDrawn([{ ...BANK, may_lie_x_m: null }], draft)[0]?.at_m, [5, 0, -0.4]);
});
