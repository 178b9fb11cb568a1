import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { FindingResult } from '../../contract.ts';
import { findingsAt, findingsElsewhere } from './findings.ts';

const finding = (place: string, severity: FindingResult['severity']): FindingResult => ({
  code: 'x',
  severity,
  place,
  sentence: place,
  source: '',
});
const all = [
  finding('changes.bow', 'fail'),
  finding('changes.bowsprit', 'warn'),
  finding('changes.bow.parts.platform', 'note'),
];

test('below a path, in their order, and no namesake', () => {
  assert.deepEqual(
    findingsAt(all, 'changes.bow').map((f) => f.severity),
    ['fail', 'note'],
  );
  assert.deepEqual(
    findingsElsewhere(all, 'changes.bow').map((f) => f.place),
    ['changes.bowsprit'],
  );
});
