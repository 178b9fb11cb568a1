import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  assessmentOf,
  changeOf,
  effectOf,
  itemOf,
  partOf,
  replacedOf,
} from '../../testing/answers.ts';
import { trimColour } from './colour.ts';
import { type Drawable, pieceColours, scalesOf } from './paint.ts';

const effect = (trim_mm: number) => effectOf({ trim_mm, freeboard_aft_mm: -0.4 * trim_mm });
const assessment = assessmentOf({
  changes: [changeOf({ id: 'house', effect: effect(-3) })],
  parts: [
    partOf({
      id: 'house',
      change: 'house',
      mass_kg: 260,
      effect: effect(-3),
      effect_gross: effect(14),
    }),
  ],
  replaced: [
    replacedOf({ id: 'existing.old-house', change: 'house', mass_kg: 364, effect: effect(-17) }),
  ],
  items: [itemOf({ path: 'a', change: 'house', replaced_by: 'house', mass_kg: 364 })],
});
const scene = [
  { id: 'hull', role: 'hull', change: null, mesh: '' },
  { id: 'house', role: 'new', change: 'house', mesh: '' },
  { id: 'existing.old-house', role: 'replaced', change: 'house', mesh: '' },
] as const satisfies readonly Drawable[];
const scales = scalesOf(assessment, new Map([['a', effect(17)]]));

test('one scale holds parts, changes and items', () => {
  assert.deepEqual([scales.trimTop, scales.massTop], [20, 400]);
  assert.equal(scales.tops.freeboard, 8);
});

test('new steel by its net effect, replaced steel by what taking it away does, hull not', () => {
  const colours = pieceColours('trim', assessment, scene, scales);
  assert.equal(colours.get('house'), trimColour(-3, 20));
  assert.equal(colours.get('existing.old-house'), trimColour(-17, 20));
  assert.equal(colours.has('hull'), false);
  assert.equal(pieceColours('plain', assessment, scene, scales).size, 0);
});
