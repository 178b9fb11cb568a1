import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { RightingLevers, WellsFullResult } from '../../contract.ts';
import { found } from '../../testing/answers.ts';
import { heightAt, seenAcross } from './level.ts';
import {
  type At,
  filledAt,
  filledOnSide,
  goesUnder,
  leversCsv,
  onSide,
  readBetween,
  toSide,
  valuesAt,
} from './levers.ts';

// a list to starboard: 4 mm at no heel; the house is lost at 90 to starboard
const levers: RightingLevers = {
  heel_deg: [-180, -90, 0, 90, 90, 180],
  gz_m: [0, 0.4, -0.004, 0.5, 0.3, 0],
  gz_plus_minus_m: [0.01, 0.02, 0.01, 0.02, 0.02, 0.01],
  gz_without_house_m: [0, 0.3, -0.004, 0.3, 0.3, 0],
  gz_well_dry_m: [0, 0.4, -0.004, 0.5, 0.3, 0],
  trim_deg: [0, 1, 0, 1, 1, 0],
  water_offset_m: [-1, -0.5, 0.1, -0.5, -0.6, -1],
};
const upright: At = { heel: 0, gz: 0, plusMinus: 0, bare: 0, dry: 0, trim: 0, offset: 0.1 };

test('at no heel what rights to one side capsizes to the other', () => {
  assert.equal(onSide(levers, 'starboard')[0]?.gz, -0.004);
  assert.equal(onSide(levers, 'port')[0]?.gz, 0.004);
  assert.deepEqual(
    onSide(levers, 'port').map((at) => at.heel),
    [0, -90, -180],
  );
});

test('between heels a lever is read straight, on the own side', () => {
  assert.ok(Math.abs(found(valuesAt(levers, 45)).gz - 0.248) < 1e-12);
  assert.ok(Math.abs(found(valuesAt(levers, -45)).gz - 0.202) < 1e-12);
  assert.equal(found(valuesAt(levers, 0)).gz, -0.004);
});

test('a value comes from its own heel, or from the two around it', () => {
  assert.deepEqual(readBetween(levers.heel_deg, -90), [1]);
  assert.deepEqual(readBetween(levers.heel_deg, 45), [2, 3]);
  assert.deepEqual(readBetween(levers.heel_deg, 200), []);
});

test('at a step the boat is the one towards upright', () => {
  assert.equal(found(valuesAt(levers, 90)).gz, 0.5);
  assert.ok(found(valuesAt(levers, 91)).gz < 0.3);
});

test('a curve that ends early has nothing beyond its end', () => {
  const short = { ...levers, heel_deg: [-180, -90, 0, 60, 60, 90] };
  assert.equal(valuesAt(short, 120), undefined);
});

test('upright a point is as high above the water as above the waterline, less sinkage', () => {
  assert.ok(Math.abs(heightAt(upright, [3, 1, 1.1]) - 1) < 1e-12);
  assert.equal(seenAcross(upright, [3, 1, 1.1]), 1);
});

test('heeled to starboard the starboard side goes down, by the stern the stern', () => {
  assert.ok(Math.abs(heightAt({ ...upright, heel: 90 }, [0, 1, 0]) + 1.1) < 1e-12);
  assert.ok(Math.abs(seenAcross({ ...upright, heel: 90 }, [0, 0, 1]) - 1) < 1e-12);
  const aft = heightAt({ ...upright, trim: 2 }, [10, 0, 0]);
  assert.ok(aft < heightAt({ ...upright, trim: 2 }, [0, 0, 0]));
});

test('an opening goes under where the first of its edge does, on the side heeled to', () => {
  // 0.5 m above the water upright, 0.5 m under at 90 to starboard
  const edge = [
    [0, 1, 0.6],
    [0, 0, 2],
  ] as const;
  const angle = goesUnder(levers, edge, 'starboard');
  assert.ok(angle !== undefined && Math.abs(angle - 45) < 0.01);
  assert.equal(goesUnder(levers, edge.slice(0, 1), 'port'), undefined);
});

test('an angle has the sign of its side', () => {
  assert.equal(toSide(30, 'port'), -30);
  assert.equal(toSide(30, 'starboard'), 30);
});

// three of those heels, a ton in the wells upright that spills as she heels
const wells: WellsFullResult = {
  heel_deg: [-90, 0, 90],
  gz_m: [0.3, -0.006, 0.2],
  water_kg: [100, 1000, 200],
  vanishing_angle_deg: 95,
};

test('spilling wells are read by side and between heels like the lever they lessen', () => {
  assert.deepEqual(filledOnSide(wells, 'port'), [
    { heel: 0, gz: 0.006, water: 1000 },
    { heel: -90, gz: 0.3, water: 100 },
  ]);
  assert.equal(filledOnSide(wells, 'starboard')[0]?.gz, -0.006);
  const at = found(filledAt(wells, 45));
  assert.ok(Math.abs(at.gz - 0.097) < 1e-12);
  assert.equal(at.water, 600);
  assert.equal(filledAt(wells, 120), undefined);
});

test('the file has a row for every heel of every boat, and of wells where they were worked out', () => {
  const rows = leversCsv('departure', [
    { boat: 'refit', levers, wells },
    { boat: 'as_found', levers, wells: null },
  ])
    .trim()
    .split('\n');
  assert.equal(rows.length, 1 + 2 * levers.heel_deg.length);
  assert.equal(rows[2], 'departure,refit,-90,0.4,0.02,0.3,0.4,1,-0.5,0.3,100');
  assert.equal(rows[1], 'departure,refit,-180,0,0.01,0,0,0,-1,,');
  assert.equal(rows[8], 'departure,as_found,-90,0.4,0.02,0.3,0.4,1,-0.5,,');
});
