import assert from 'node:assert/strict';
import { test } from 'node:test';
import { sectionsOf } from '../shared/boat/ledger.ts';
import { scaleOf } from '../shared/boat/side-view.ts';
import { assessmentOf, changeOf, itemOf } from '../testing/answers.ts';
import { nearestPlace, placesOf } from './places.ts';
import { ledgerGroups, nextSort, shows, stands, sumsOf, WHOLE_LEDGER } from './view-of.ts';

const sections = sectionsOf(
  assessmentOf({
    changes: [changeOf({ id: 'bow' }), changeOf({ id: 'drive' }), changeOf({ id: 'empty' })],
    items: [
      itemOf({ name: 'anchor', change: 'bow', role: 'removed', mass_kg: 25, at_m: [-1, 0, 1] }),
      itemOf({ name: 'anchor', change: 'bow', role: 'added', mass_kg: 33, at_m: [-2, 0, 1] }),
      itemOf({ name: 'battery', change: 'drive', role: 'added', mass_kg: 243 }),
      itemOf({ name: 'chain', change: 'drive', role: 'moved', mass_kg: 161 }),
      itemOf({ name: 'tray', change: 'drive', role: 'part', mass_kg: 12 }),
      itemOf({ name: 'weld metal of tray', change: 'drive', role: 'allowance', mass_kg: 0.2 }),
    ],
  }),
);
const names = (view: Partial<typeof WHOLE_LEDGER>) =>
  ledgerGroups(sections, { ...WHOLE_LEDGER, ...view }, () => undefined)
    .filter((group) => stands(group, { ...WHOLE_LEDGER, ...view }))
    .map(({ key, shown }) => [key, shown.map((row) => `${row.name} ${row.item.mass_kg}`)]);

test('by change, as entered; a change without rows stands while nothing is filtered', () => {
  assert.deepEqual(
    names({}).map(([key]) => key),
    ['bow', 'drive', 'empty'],
  );
  assert.deepEqual(names({ text: 'ANCH on' }), [['bow', ['anchor 33']]]);
  assert.deepEqual(names({ text: 'nothing such' }), []);
});

test('by kind, with the weld metal among the new steel, and not at all', () => {
  assert.deepEqual(names({ grouping: 'kind' }).at(-1), [
    'new steel',
    ['tray 12', 'weld metal of tray 0.2'],
  ]);
  const [all] = names({ grouping: 'none', sort: { column: 'kg', down: true } });
  assert.deepEqual(all?.[1]?.slice(0, 2), ['battery 243', 'chain 161']);
});

test('a column sorts up, then down, then as entered, and ties stay in their order', () => {
  const up = nextSort(undefined, 'kg');
  assert.deepEqual(up, { column: 'kg', down: false });
  assert.deepEqual(nextSort(up, 'kg'), { column: 'kg', down: true });
  assert.equal(nextSort(nextSort(up, 'kg'), 'kg'), undefined);
  assert.deepEqual(nextSort(up, 'x'), { column: 'x', down: false });
  assert.deepEqual(names({ sort: { column: 'what', down: true } })[0]?.[1], [
    'anchor 25',
    'anchor 33',
  ]);
});

test('sums tell what goes on, comes off and moves', () => {
  const rows = sections.flatMap((section) => section.rows);
  assert.deepEqual(sumsOf(rows), {
    ...{ rows: 6, on_kg: 288.2, off_kg: 25, moved_kg: 161, net_kg: 263.2 },
  });
  const kept = rows.filter((row) => shows({ ...WHOLE_LEDGER, kind: 'comes off' }, row));
  assert.deepEqual([sumsOf(kept).rows, sumsOf(kept).net_kg], [1, -25]);
});

test('the weight that is meant is the nearest, at either end of its way', () => {
  const rows = sections.flatMap((section) => section.rows);
  const scale = scaleOf({ x0: -2, x1: 8, z0: -1, z1: 2 }, 500);
  const places = placesOf(
    rows.map(({ item, ...row }) => ({
      ...row,
      item: item.role === 'moved' ? { ...item, to_m: [5, 0, 1] } : item,
    })),
    scale,
  );
  const near = (x: number, z: number) =>
    nearestPlace(places, [scale.x(x), scale.z(z)], 14)?.row.name;
  assert.equal(near(-2, 1.1), 'anchor');
  assert.equal(near(5, 1), 'chain');
  assert.equal(near(7, -0.5), undefined);
});
