import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Assessment, ConditionResult } from '../contract.ts';
import { guideEntryOf } from '../shared/words/meanings.ts';
import { assessmentOf, conditionOf, openingOf, workingOf } from '../testing/answers.ts';
import { contentsOf } from './contents.ts';
import { factsOf } from './facts.ts';

const guideOf = (more: Partial<Assessment>, document = {}, inFile = false) =>
  contentsOf(
    factsOf(
      workingOf({ assessment: assessmentOf({ boat: 'Moth', ...more }), document }),
      'c',
      undefined,
    ),
    { cautions: [{ topic: 'hot work', sentence: 'Test and clear.', source: 'NFPA 306' }], inFile },
  );

/** What an entry says of this boat. */
function ofBoat(id: string, more: Partial<Assessment>, document = {}): string {
  const entry = guideOf(more, document)
    .flatMap(({ entries }) => entries)
    .find((one) => one.id === id);
  assert.ok(entry, id);
  return (entry.own ?? []).join(' ');
}

const floats = (more: Partial<ConditionResult>): Partial<Assessment> => ({
  conditions: [conditionOf({ id: 'c', ...more })],
});
const LEVERS = {
  heel_deg: [0, 30],
  gz_m: [0, 0.25],
  gz_plus_minus_m: [0, 0],
  gz_well_dry_m: [0, 0],
  gz_without_house_m: [0, 0],
  trim_deg: [0, 0],
  water_offset_m: [0, 0],
};

test('every entry has a name of its own in the address', () => {
  const ids = guideOf({}).flatMap((part) => [part.id, ...part.entries.map(({ id }) => id)]);
  assert.equal(new Set(ids).size, ids.length);
});

test('figures are those of the answer', () => {
  const boat = floats({ lcf_m: 5.56, kg_per_cm: 259.4, trim_moment_kgm_per_cm: 138.2 });
  assert.match(ofBoat('lcf', boat), /5\.56 m aft of the FP/);
  assert.match(ofBoat('immersion', boat), /259 kg\/cm/);
  assert.match(ofBoat('mtc', boat), /138 kg·m\/cm/);
  const heeled = floats({ righting_levers: LEVERS, greatest_gz_m: 0.5, greatest_gz_at_deg: 74.7 });
  assert.match(
    ofBoat('gz', heeled),
    /At 30° to starboard her GZ is 0\.250 m\..*0\.500 m, at 74\.7°/,
  );
});

test('a boat without results in a condition is told so, with no figure of hers', () => {
  const sunk = { id: 'c', stage: 'refit', unanswered: 'She sinks.', code: 'sinks' } as const;
  const [words] = guideOf({ conditions: [sunk] });
  assert.match(words?.about ?? '', /Moth has no figures in this condition \(c\)\. .*She sinks\./);
  for (const id of ['trim', 'gm', 'gz', 'lcf', 'displacement'])
    assert.equal(ofBoat(id, { conditions: [sunk] }), '', id);
});

test('of a boat upside down nothing is said that a standing boat has', () => {
  const over = floats({ upside_down: true, lcf_m: 5 });
  const [words] = guideOf(over);
  assert.match(words?.about ?? '', /rest upside down/);
  for (const id of ['trim', 'list', 'sinkage', 'freeboard', 'lcf', 'immersion', 'mtc'])
    assert.equal(ofBoat(id, over), '', id);
});

test('an unstable boat is told that she does not stay upright', () => {
  assert.match(ofBoat('gm', floats({ gm_m: -0.1 })), /does not stay upright/);
  assert.doesNotMatch(ofBoat('gm', floats({ gm_m: 0.9 })), /does not stay upright/);
  const capsizes = floats({ righting_levers: LEVERS, vanishing_angle_deg: 0 });
  assert.match(ofBoat('avs', capsizes), /does not right herself/);
  const falls = floats({
    righting_levers: LEVERS,
    range_deg: 0,
    greatest_gz_m: -0.01,
    greatest_gz_at_deg: 0,
  });
  assert.match(ofBoat('range', falls), /has none/);
  assert.match(ofBoat('gz', falls), /no righting lever to her worse side/);
});

test('what is not entered is said so', () => {
  const boat = floats({ righting_levers: LEVERS });
  assert.match(ofBoat('downflooding', boat), /No openings are entered yet/);
  assert.match(ofBoat('freeboard', boat), /No freeboard mark/);
  assert.match(ofBoat('camber', boat), /counts as flat/);
  assert.match(ofBoat('as-found', boat), /no change yet/);
  const vented = floats({ righting_levers: LEVERS, openings: [openingOf({ id: 'vent' })] });
  assert.match(ofBoat('downflooding', vented), /not reached/);
  const deck = { hull: { deck: { camber_m: 0.06, at_half_breadth_m: 1.8 } } };
  assert.match(ofBoat('camber', {}, deck), /0\.060 m, measured where the half-breadth is 1\.80 m/);
});

test('levers that are not there yet, or cannot be, are not passed over', () => {
  assert.match(ofBoat('avs', floats({})), /still being calculated/);
  assert.match(ofBoat('avs', floats({ not_followed: 'She trims too far.' })), /trims too far/);
});

test('one file has no entry for the pages it has not', () => {
  const pages = (inFile: boolean) =>
    guideOf({}, {}, inFile)
      .find(({ id }) => id === 'pages')
      ?.entries.map(({ title }) => title);
  assert.ok(pages(false)?.includes('Cutting'));
  assert.ok(!pages(true)?.includes('Cutting'));
});

test('cautions are those that are served, with their sources', () => {
  const cautions = guideOf({}).at(-1)?.entries[0];
  assert.deepEqual(cautions?.meaning, ['Test and clear.']);
  assert.equal(cautions?.source, 'NFPA 306');
});

test('figures that open lead to an entry there is, and only those the Guide speaks of', () => {
  const ids = guideOf({}).flatMap(({ entries }) => entries.map(({ id }) => id));
  const leads: Readonly<Record<string, string | undefined>> = {
    'conditions.departure.refit.trim_mm': 'trim',
    'conditions.departure.refit.change.lcg_m': 'lcg',
    'conditions.departure.refit.centre_of_gravity_m.z': 'vcg',
    'conditions.departure.refit.sinkage_stern_mm': 'sinkage',
    'conditions.departure.refit.freeboards.aft.port.freeboard_mm': 'freeboard',
    'conditions.departure.refit.gm_m': 'gm',
    'conditions.departure.refit.gm_longitudinal_m': undefined,
    'conditions.departure.refit.held.port.gz_m.30': 'gz',
    'conditions.departure.refit.vanishing_angle_without_house_deg': 'avs',
    'conditions.departure.refit.downflooding_angle_deg': 'downflooding',
    'changes.house.effect.gm_mm': 'gm',
    'hull.trim_moment_kgm_per_cm': 'mtc',
    'hull.kg_per_cm': 'immersion',
    'hull.km_longitudinal_m': undefined,
    'document.boat.persons': undefined,
  };
  for (const [path, entry] of Object.entries(leads)) {
    assert.equal(guideEntryOf(path), entry, path);
    if (entry !== undefined) assert.ok(ids.includes(entry), entry);
  }
});
