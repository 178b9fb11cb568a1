import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import type { ConditionResult, TargetResult } from '../../contract.ts';
import { conditionOf, differenceOf, found, plusMinusOf } from '../../testing/answers.ts';
import { writeIn } from '../words/writing.ts';
import {
  answerFigures,
  askedWords,
  missedElsewhere,
  resultWords,
  targetsNow,
  targetValueWords,
  verdictWords,
} from './answer-line.ts';
import { figures } from './figures.ts';
import { stabilitySentences } from './stability-sentence.ts';
import { gmWords } from './uncertainty.ts';
import { targetOf, usualIn } from './ways-out.ts';

const mark = (name: string, mean_mm: number, change_mm: number | null) => ({
  mark: name,
  port_mm: mean_mm,
  starboard_mm: mean_mm,
  mean_mm,
  change_mm,
});
const boat = (more: Partial<ConditionResult> = {}) =>
  conditionOf({
    id: 'departure',
    stage: 'refit',
    trim_mm: 112.2,
    displacement_kg: 12300,
    gm_m: 0.993,
    plus_minus: plusMinusOf({ displacement_kg: 120, trim_mm: 8, gm_m: 0.04 }),
    freeboards_at_marks: [mark('forward', 1419, 24), mark('aft', 1032.4, -28.3)],
    change: differenceOf({
      displacement_kg: 108.9,
      trim_mm: 54,
      gm_m: -0.04,
      plus_minus: plusMinusOf({ displacement_kg: 21 }),
    }),
    ...more,
  });
const as_found = conditionOf({ ...boat(), stage: 'as_found', change: null });
const target = (more: Partial<TargetResult> = {}): TargetResult => ({
  id: 'level',
  result: 'trim_mm',
  condition: 'departure',
  stage: 'refit',
  value: 112.2,
  unit: 'mm',
  at_least: -25,
  at_most: 25,
  state: 'not_met',
  plus_minus: 8,
  margin_sd: -10,
  probability: 0,
  way_out: null,
  ...more,
});
const usual_targets = [
  {
    name: 'level',
    result: 'trim_mm',
    condition: 'departure',
    stage: 'refit' as const,
    unit: 'mm',
    at_least: -25,
    at_most: 25,
  },
];
const line = (
  targets: readonly TargetResult[],
  now: ConditionResult = boat(),
  usual: typeof usual_targets = [],
) =>
  answerFigures({ conditions: [as_found, now], usual_targets: usual }, targets, 'departure').map(
    ({ label, value, beside, verdict }) =>
      [label, value, beside, verdict].filter(Boolean).join(' | '),
  );

afterEach(() => writeIn({ units: 'metric', decimal: '.' }));

test('what she does, what was asked, what she gained and what matters', () => {
  assert.deepEqual(line([target()]), [
    '112 mm by the stern | you asked for 25 mm or less | missed',
    '+110 kg',
    'freeboard aft | 1,032 mm | (−28)',
    'GM | 0.99 m | (−0.04)',
  ]);
});

test('a met target is the word alone; doubt and what is assumed are said', () => {
  const trim = (more: Partial<TargetResult>) => line([target(more)], boat({ trim_mm: 6 }))[0];
  assert.equal(trim({ state: 'met' }), '6 mm by the stern | met');
  const asked = 'you asked for 25 mm or less';
  assert.equal(
    trim({ state: 'met_within_doubt' }),
    `6 mm by the stern | ${asked} | met, within doubt`,
  );
  assert.equal(
    trim({ state: 'not_met_within_doubt' }),
    `6 mm by the stern | ${asked} | missed, within doubt`,
  );
  assert.equal(
    trim({ state: 'to_be_confirmed' }),
    `6 mm by the stern | ${asked} | to be confirmed`,
  );
  assert.equal(verdictWords(target({ state: 'to_be_confirmed', value: null })), 'not answered');
});

test('a value a hair beyond its limit is never shown as the limit', () => {
  const [trim = ''] = line([target({ value: 25.2 })], boat({ trim_mm: 25.2 }));
  assert.match(trim, /^25\.2 mm by the stern/);
  const list = target({ result: 'heel_deg', unit: '°', value: 0.31, at_least: -0.3, at_most: 0.3 });
  assert.equal(targetValueWords(list, 0.31), '0.31° to starboard');
});

test('where none is set it says what is usual, and no verdict', () => {
  const [trim] = line([], boat(), usual_targets);
  assert.equal(trim, '112 mm by the stern | no trim target; usual target 25 mm or less');
  assert.equal(line([])[0], '112 mm by the stern | no trim target');
  const elsewhere = target({ condition: 'arrival' });
  assert.equal(line([elsewhere])[0], '112 mm by the stern | no trim target');
  const of_the_old_boat = target({ stage: 'as_found' });
  assert.equal(line([of_the_old_boat])[0], '112 mm by the stern | no trim target');
});

test('the freeboard that matters is the missed one, of one boat the lowest', () => {
  const forward = target({
    result: 'freeboards.forward',
    value: 1419,
    at_least: 1450,
    at_most: null,
  });
  assert.equal(
    line([forward])[2],
    'freeboard forward | 1,419 mm | (+24), you asked for 1,450 mm or more | missed',
  );
  const met = { ...forward, at_least: 1400, state: 'met' } as const;
  assert.equal(line([met])[2], 'freeboard aft | 1,032 mm | (−28)');
  const one_side = { ...forward, result: 'freeboards.forward.port', value: 1401 };
  assert.match(line([one_side])[2] ?? '', /^freeboard forward, port \| 1,401 mm/);
  const only = conditionOf({
    ...boat({ change: null }),
    freeboards_at_marks: [mark('forward', 1419, null), mark('aft', 1032, null)],
  });
  assert.deepEqual(line([], only).slice(1), [
    'displacement | 12,300 kg',
    'freeboard aft | 1,032 mm',
    'GM | 0.99 m',
  ]);
});

test('of a boat upside down no trim and no freeboard are told', () => {
  assert.deepEqual(line([target({ value: 40 })], boat({ upside_down: true })), [
    'Upside down | you asked for 25 mm or less | missed',
    '+110 kg',
    'GM | 0.99 m | (−0.04)',
  ]);
});

test('a boat that has no results has no line; level and no gain are words', () => {
  assert.deepEqual(line([], conditionOf({ id: 'other', stage: 'refit' })).length, 4);
  assert.deepEqual(answerFigures({ conditions: [], usual_targets: [] }, [], 'departure'), []);
  const same = boat({ trim_mm: 0.2, change: differenceOf({ displacement_kg: 0.1 }) });
  assert.deepEqual(line([], same).slice(0, 2), [
    'Level | no trim target',
    'displacement | 12,300 kg | unchanged',
  ]);
});

test('targets missed besides: of other conditions, and of other figures', () => {
  const [trim, list] = [target(), target({ id: 'upright', result: 'heel_deg', unit: 'deg' })];
  const other = target({ id: 'arrival-level', condition: 'arrival' });
  const kept = target({ id: 'stiff', result: 'gm_m', state: 'met' });
  const doubt = target({ id: 'range', result: 'range_deg', state: 'not_met_within_doubt' });
  const all = [trim, list, other, kept, doubt];
  const shown = answerFigures(
    { conditions: [as_found, boat()], usual_targets: [] },
    all,
    'departure',
  );
  assert.deepEqual(
    missedElsewhere(all, shown).map((one) => one.id),
    ['upright', 'arrival-level', 'range'],
  );
  const mean = target({ id: 'dry', result: 'freeboards.aft', at_least: 1100, at_most: null });
  const dry = answerFigures(
    { conditions: [as_found, boat()], usual_targets: [] },
    [mean],
    'departure',
  );
  assert.deepEqual(missedElsewhere([mean], dry), []);
});

test('a boat that lists is said to list, and the lower side of the marks counts', () => {
  const sides = (mean: number, change: number | null, half: number) => ({
    ...mark('midships', mean, change),
    ...{ port_mm: mean + half, starboard_mm: mean - half },
  });
  const level = conditionOf({ ...as_found, freeboards_at_marks: [sides(1000, null, 0)] });
  const listed = boat({ heel_deg: 7.4, freeboards_at_marks: [sides(920, -80, 224)] });
  const answer = { conditions: [level, listed], usual_targets: [] };
  const [trim, list, , freeboard] = answerFigures(answer, [], 'departure');
  assert.deepEqual([trim?.id, list?.id, list?.value], ['trim', 'list', '7.4° to starboard']);
  assert.deepEqual(
    [freeboard?.label, freeboard?.value, freeboard?.beside],
    ['freeboard midships, starboard', '696 mm', '(−304)'],
  );
  const onSide = { result: 'freeboards.midships.starboard', value: 696, at_least: 900 };
  const low = target({ ...onSide, id: 'dry', at_most: null, state: 'not_met' });
  const judged = answerFigures(answer, [low], 'departure').find(({ id }) => id === 'freeboard');
  assert.deepEqual(
    [judged?.label, judged?.value, judged?.verdict],
    ['freeboard midships, starboard', '696 mm', 'missed'],
  );
  const slight = boat({ heel_deg: 0.4, freeboards_at_marks: [sides(920, -80, 12)] });
  const shown = answerFigures({ ...answer, conditions: [level, slight] }, [], 'departure');
  assert.deepEqual(
    shown.map(({ id }) => id),
    ['trim', 'mass', 'freeboard', 'gm'],
  );
});

test('while one condition is answered the targets of others stand as last answered', () => {
  const unanswered = target({ value: null, state: 'to_be_confirmed' });
  const [now] = targetsNow({ targets: [unanswered] }, { targets: [target()] });
  assert.equal(found(now).state, 'not_met');
  assert.equal(targetsNow({ targets: [target()] }, undefined).length, 1);
});

test('bounds in words, either sign, one side and both', () => {
  const asked = (
    at_least: number | null,
    at_most: number | null,
    result = 'trim_mm',
    unit = 'mm',
  ) => askedWords({ result, at_least, at_most, unit });
  assert.equal(asked(-25, 25), '25 mm or less');
  assert.equal(asked(20, 60), '20 mm by the stern to 60 mm by the stern');
  assert.equal(asked(-60, 20), '60 mm by the bow to 20 mm by the stern');
  assert.equal(asked(null, 40), '40 mm by the stern or less');
  assert.equal(asked(null, -40), '40 mm by the bow or more');
  assert.equal(asked(30, null), '30 mm by the stern or more');
  assert.equal(asked(-30, null), '30 mm by the bow or less');
  assert.equal(asked(-0.3, 0.3, 'heel_deg', 'deg'), '0.3° or less');
  assert.equal(asked(0.95, null, 'gm_m', 'm'), '0.95 m or more');
  assert.equal(asked(1060, null, 'freeboards.aft'), '1,060 mm or more');
  writeIn({ units: 'feet and inches', decimal: '.' });
  assert.match(asked(-25, 25), /in or less$/);
  assert.doesNotMatch(line([target()]).join(' '), /mm|kg/);
});

test('results by their names, and a target that asks what is usual', () => {
  assert.equal(resultWords('freeboards.aft.port'), 'freeboard aft, port');
  assert.equal(resultWords('vanishing_angle_deg'), 'angle of vanishing stability');
  const [usual] = usualIn({ usual_targets }, 'departure');
  assert.deepEqual(targetOf(found(usual)), {
    result: 'trim_mm',
    condition: 'departure',
    at_least: -25,
    at_most: 25,
  });
  assert.equal(targetOf({ ...found(usual), stage: 'as_found' }).boat, 'as_found');
  const dry = { ...found(usual), result: 'freeboards.aft', at_most: null };
  assert.deepEqual(usualIn({ usual_targets: [dry] }, 'departure'), []);
});

test('a boat known badly is shown as she was typed, and her GM alike everywhere', () => {
  const plus_minus = plusMinusOf({ displacement_kg: 2182, gm_m: 0.35 });
  for (const [gm_m, shown] of [
    [0.906, '0.91 m'],
    [0.996, '1.00 m'],
    [-0.003, '−0.003 m'],
  ] as const) {
    const guessed = boat({ displacement_kg: 14453, gm_m, plus_minus, change: null });
    const line = answerFigures({ conditions: [guessed], usual_targets: [] }, [], 'departure');
    const value = (id: string) => line.find((one) => one.id === id)?.value;
    assert.equal(value('mass'), '14,500 kg');
    assert.equal(value('gm'), shown);
    assert.match(stabilitySentences(guessed, undefined, [])[2] ?? '', RegExp(`^GM ${shown}`));
    assert.ok(gmWords(guessed).startsWith(`${shown.replace(' m', '')} ± 0.35`));
    const strip = figures([guessed], 'departure').map((one) => one.value);
    assert.ok(strip.includes('14,500 kg') && strip.includes(shown), strip.join());
  }
});
