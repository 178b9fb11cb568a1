import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ChangeResult, ItemResult } from '../../contract.ts';
import { assessmentOf } from '../../testing/answers.ts';
import { sectionsOf, totalsOf } from './ledger.ts';

const effect = { sinkage_mm: 0, trim_mm: 0, heel_deg: 0, vcg_mm: 0, gm_mm: 0 };
const change: ChangeResult = {
  id: 'drive',
  stage: 'proposed',
  added_kg: 90,
  removed_kg: 126,
  moved_kg: 0,
  net_kg: -36,
  effect,
  reminder: '',
};
const item = (path: string, role: ItemResult['role']): ItemResult => ({
  path,
  role,
  change: 'drive',
  mass_kg: 1,
  plus_minus_kg: 0,
  at_m: [0, 0, 0],
  to_m: null,
  provenance: 'drawn',
  replaced_by: null,
  may_lie_x_m: null,
  effect: null,
});
const document = {
  changes: {
    drive: {
      removes: { diesel: {}, 'old-fuel': { aboard: 'fuel' } },
      moves: { rig: { rises_with: { path: 'changes.deckhouse.parts.house.side_height_m' } } },
    },
  },
};
const items = [
  item('survey.aboard.fuel', 'removed'),
  item('changes.drive.moves.rig', 'moved'),
  item('changes.drive.parts.mount.weld-metal', 'allowance'),
  item('changes.drive.parts.bottom.old-plate', 'removed'),
];

test('what the survey had aboard is kept where the change takes it off', () => {
  const [section] = sectionsOf(assessmentOf({ changes: [change], items }), document);
  assert.deepEqual(
    section?.rows.map((r) => [r.name, r.path, r.rises]),
    [
      ['old fuel', 'changes.drive.removes.old-fuel', ''],
      ['rig', 'changes.drive.moves.rig', 'rises with side height'],
      ['weld metal of mount', '', ''],
      ['old plate of bottom', '', ''],
    ],
  );
});

test('totals add up', () => {
  assert.deepEqual(totalsOf([change, change]), {
    removed: 252,
    added: 180,
    moved: 0,
    net: -72,
  });
});
