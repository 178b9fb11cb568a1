import assert from 'node:assert/strict';
import { test } from 'node:test';
import { assessmentOf, changeOf, itemOf } from '../../testing/answers.ts';
import { sectionsOf } from './ledger.ts';

test('each change has its own lines, and says what their heights go with', () => {
  const rises_with = 'changes.deckhouse.parts.house.side_height_m';
  const items = [
    itemOf({ path: 'a', kept_at: 'a', name: 'rig', change: 'drive', rises_with }),
    itemOf({ path: 'b', name: 'weld metal of mount', change: 'other' }),
  ];
  const [section] = sectionsOf(assessmentOf({ changes: [changeOf({ id: 'drive' })], items }));
  assert.deepEqual(
    section?.rows.map((r) => [r.name, r.path, r.rises]),
    [['rig', 'a', 'rises with side height']],
  );
});
