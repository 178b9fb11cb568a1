import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { CriterionResult, OpeningResult } from '../../contract.ts';
import {
  conditionOf,
  criterionOf,
  differenceOf,
  found,
  heeledChangeOf,
  openingOf,
} from '../../testing/answers.ts';
import {
  angleWords,
  byDocument,
  criterionValueWords,
  floodingWords,
  floodsWords,
  input,
  inShort,
  inUseWords,
  limitWords,
  marginWords,
  measured,
  nextWords,
  rangeSentence,
  riseWords,
  stateSign,
  stateWords,
  underWords,
  vanishingWords,
} from './criteria.ts';

const one = (id: string, document: string, state: CriterionResult['state']) =>
  criterionOf({
    id,
    document,
    state,
    value: 1,
    sense: 'at least',
    limit: 0.055,
    unit: 'm rad',
  });
const some = [
  one('a', 'first', 'met'),
  one('b', 'second', 'to_be_confirmed'),
  one('c', 'first', 'met'),
  { ...one('d', 'second', 'to_be_confirmed'), value: null },
];

test('each state has words and a sign of its own, older words stay', () => {
  const states = [
    'met',
    'met_within_doubt',
    'not_met_within_doubt',
    'not_met',
    'to_be_confirmed',
  ] as const;
  const rows = states.map((state) => one('a', 'first', state));
  assert.equal(new Set(rows.map(stateSign)).size, 5);
  assert.equal(stateWords(found(rows[1])), 'met within doubt');
  assert.equal(stateWords(found(some[3])), 'not answered');
  assert.equal(stateWords(one('a', 'first', 'not met')), 'not met');
  assert.equal(stateSign(one('a', 'first', 'not met')), '✗');
});

test('a value stands with its doubt, and the verdict with its margin', () => {
  const close = {
    ...one('range', 'first', 'met_within_doubt'),
    value: 110.53,
    limit: 110,
    unit: 'deg',
    plus_minus: 2.28,
    margin_sd: 0.232,
    probability: 0.592,
    vcg_rise_m: 0.0021,
  };
  assert.equal(criterionValueWords(close), '110.5° ± 2.3°');
  assert.equal(criterionValueWords({ ...close, value: 122.2 }), '122° ± 2°');
  const drains = { ...close, value: 39.27, limit: 191.3, unit: 'cm2', plus_minus: null };
  assert.equal(criterionValueWords(drains), '39 cm²');
  assert.equal(marginWords(close), 'margin +0.2 sd, 59 % likely to be met');
  assert.equal(riseWords(close), 'VCG may rise 2 mm');
  assert.equal(riseWords({ ...close, vcg_rise_m: -0.11 }), 'VCG must come down 110 mm');
  const nearlySure = { ...close, margin_sd: 3.6, probability: 0.9998 };
  assert.equal(marginWords(nearlySure), 'margin +3.6 sd, over 99 % likely to be met');
  assert.equal(marginWords({ ...close, margin_sd: 14.1 }), 'margin +14.1 sd');
  assert.equal(marginWords({ ...close, margin_sd: null }), '');
});

test('criteria stand under the document they are written in, in their order', () => {
  assert.deepEqual(
    byDocument(some).map(([name, list]) => [name, list.map((c) => c.id)]),
    [
      ['first', ['a', 'c']],
      ['second', ['b', 'd']],
    ],
  );
});

test('values and limits carry their unit', () => {
  assert.equal(measured(124.4647, 'deg'), '124.5°');
  assert.equal(measured(39.177, ''), '39.18');
  assert.equal(limitWords(found(some[0])), 'at least 0.055 m rad');
  assert.equal(input(12622.1, 'kg'), '12,622 kg');
  assert.equal(input(0.0833, ''), '0.0833');
  assert.equal(input(30, 'deg'), '30°');
  assert.equal(input(0, 'm'), '0 m');
  assert.equal(input(-0.18887031, 'm'), '−0.1889 m');
});

test('an angle that is not there is a word, not a number', () => {
  assert.equal(vanishingWords(0), 'does not right herself');
  assert.equal(vanishingWords(180), 'rights from every heel');
  assert.equal(vanishingWords(null), 'not answered');
  assert.equal(angleWords(null), 'not reached');
  const opening = openingOf({ id: 'hatch', side: 'port' });
  assert.equal(underWords({ under: [], next: undefined }), 'No openings are entered.');
  assert.equal(
    underWords({ next: undefined, under: [opening] }),
    '1 opening under water: hatch, port.',
  );
  assert.equal(nextWords({ next: undefined }), '');
  assert.equal(nextWords({ next: { opening, height: 0.314 } }), 'Next: hatch, port, 0.31 m above.');
});

test('what a criterion took for downflooding, and how an opening is used', () => {
  const one = (of: Partial<CriterionResult>) => floodsWords(criterionOf(of));
  assert.equal(one({ downflooding_by: null, state: 'met' }), '—');
  const took = { downflooding_by: 'is-code', state: 'met', value: 1 } as const;
  assert.equal(one({ ...took, downflooding_angle_deg: 72.94 }), '72.9°');
  assert.equal(one({ ...took, downflooding_angle_deg: null }), 'no opening under');
  const used = (of: Partial<OpeningResult>) => inUseWords(openingOf(of));
  assert.equal(used({ closing: 'none', regular: null }), 'always open');
  assert.equal(used({ closing: 'weathertight', regular: null }), 'not said');
  assert.equal(used({ closing: 'weathertight', regular: true }), 'opened at sea');
  assert.equal(used({ closing: 'watertight', regular: false }), 'shut at sea');
});

test('the vanishing angle never stands alone', () => {
  const boat = conditionOf({
    vanishing_angle_deg: 123.9,
    vanishing_angle_without_house_deg: 112.2,
    range_deg: 98.4,
    flooding_sentence: 'First unclosed opening under water: vent, at 98.4°.',
    greatest_gz_m: 0.497,
    openings: [openingOf()],
  });
  const changed = differenceOf({ heeled: heeledChangeOf({ greatest_gz_m: -0.043 }) });
  const words = inShort({ ...boat, change: changed }, boat);
  assert.match(words, /^First unclosed opening under water: vent, at 98\.4°\. AVS 123/);
  assert.match(words, /123\.9°, range 98\.4°; without deckhouse buoyancy AVS 112\.2°/);
  assert.match(words, /43 mm less than as found/);
  assert.equal(
    rangeSentence(boat),
    'Angle of vanishing stability 123.9°, range 98.4°; without deckhouse buoyancy 112.2°.',
  );
  assert.equal(floodingWords(null, { openings: [] }), 'no openings entered');
  assert.equal(floodingWords(null, boat), 'not reached');
  const never = { ...boat, vanishing_angle_deg: 0, vanishing_angle_without_house_deg: 180 };
  assert.match(
    inShort(never, undefined),
    /She does not right herself, range .*; without deckhouse buoyancy she rights from every heel\. /,
  );
});
