import assert from 'node:assert/strict';
import { test } from 'node:test';
import { gzipSync } from 'node:zlib';
import { answersFrom } from './answers.ts';
import { offlineCopyIn } from './copy.ts';
import { withComma } from './decimal-comma.ts';
import { OfflineReview } from './review.ts';

const refit = {
  refits: [{ id: 'dot.yaml' }],
  cautions: [{ topic: 'x' }],
  working: {
    edit: 0,
    condition: 'loaded',
    profile: { centre_of_flotation_x_m: 5 },
    refit: 'dot.yaml',
    assessment: {
      boat: 'Dot',
      document_sha256: 'd0',
      record: { state: 'left out', parts: [] },
      conditions: [
        { id: 'loaded', stage: 'refit', held: null },
        { id: 'light', stage: 'refit', held: null },
      ],
    },
  },
  reviewed: null,
};
const packed = (content: object) => gzipSync(JSON.stringify(content)).toString('base64');
const blocks: Record<string, string> = {
  refit: JSON.stringify(refit),
  'forms-and-profiles': packed({
    kinds: [],
    grammar: { document_schema: {}, pointers: [] },
    profiles: { light: { centre_of_flotation_x_m: 4 } },
  }),
  explanations: packed({ 'hull.beam_m': { value: 3.7 } }),
  held: packed({ light: { refit: { port: { gz_m: [0.1] } } } }),
  files: packed({
    'lines.csv': 'boat,Dot\n\nline,x_m\nchine,0.5\n',
    'lines.csv?units=imperial': 'boat,Dot\n\nline,x_ft\nchine,1.64\n',
    'lines-plan.svg': '<svg/>',
    'levers.csv?condition=light': 'gz_m',
    'levers.csv?condition=light&units=imperial': 'gz_ft',
  }),
  a1b2: gzipSync(Buffer.from([0, 200, 7])).toString('base64'),
};
const dataBlock = (name: string) => blocks[name];
const copy = offlineCopyIn(dataBlock);
assert.ok(copy);
const answer = answersFrom(copy, dataBlock, new OfflineReview(copy, undefined));
const json = async (path: string) => (await answer(path)).json();
const WORKING = '/api/refits/dot.yaml/revisions/working';

test('without data a server is asked', () => {
  assert.equal(
    offlineCopyIn(() => undefined),
    undefined,
  );
});

test('the refit answers in the condition that is looked at', async () => {
  assert.deepEqual(await json('/api/refits'), refit.refits);
  assert.deepEqual(await json('/api/kinds'), []);
  assert.deepEqual(await json(`${WORKING}?full=true`), refit.working);
  const light = await json(`${WORKING}?condition=light&full=true`);
  assert.equal(light.condition, 'light');
  assert.equal(light.profile.centre_of_flotation_x_m, 4);
  assert.deepEqual(light.assessment.conditions, [
    { id: 'loaded', stage: 'refit', held: null },
    { id: 'light', stage: 'refit', held: { port: { gz_m: [0.1] } } },
  ]);
  assert.equal((await json(`${WORKING}/record`)).record.state, 'left out');
});

test('the tables that the pages hand out are in the file', async () => {
  const file = await answer(`${WORKING}/files/levers.csv?condition=light`);
  assert.equal(await file.text(), 'gz_m');
  assert.match(file.headers.get('content-disposition') ?? '', /"light-levers\.csv"/);
  const lines = async (query: string) =>
    (await answer(`${WORKING}/files/lines.csv${query}`)).text();
  assert.match(await lines(''), /x_m\nchine,0\.5\n$/);
  assert.match(await lines('?units=imperial'), /x_ft\nchine,1\.64\n$/);
  assert.match(await lines('?units=imperial&decimal=comma'), /^boat;Dot\n\n.*\nchine;1,64\n$/);
  const feet = await answer(`${WORKING}/files/levers.csv?condition=light&units=imperial`);
  assert.equal(await feet.text(), 'gz_ft');
  const plan = await answer(`${WORKING}/files/lines-plan.svg`);
  assert.equal(await plan.text(), '<svg/>');
  assert.equal(plan.headers.get('content-type'), 'image/svg+xml');
  assert.equal((await answer(`${WORKING}/files/lines-planxsvg`)).status, 403);
  assert.equal((await answer(`${WORKING}/files/levers.csv?condition=x`)).status, 403);
});

test('a comma parts decimals and semicolons part cells, as a server writes them', () => {
  // by csv_under of the model, with "," and with ";"
  const point = 'boat,"a, ""b"""\nnote,x; y\n\nx_m,name\n-1.25,"1.5 m"\n2e-05,3\n';
  const comma = 'boat;"a, ""b"""\nnote;"x; y"\n\nx_m;name\n-1,25;1.5 m\n2e-05;3\n';
  assert.equal(withComma(point), comma);
});

test('a mesh comes unpacked', async () => {
  const bytes = new Uint8Array(await (await answer('a1b2')).arrayBuffer());
  assert.deepEqual([...bytes], [0, 200, 7]);
});

test('a figure opens from the file, and what is not in it is refused', async () => {
  assert.deepEqual(await json(`${WORKING}/explanation?path=hull.beam_m`), { value: 3.7 });
  assert.equal((await answer(`${WORKING}/explanation?path=hull.length_m`)).status, 403);
  const bare = answersFrom(
    copy,
    (name) => (name === 'refit' ? blocks.refit : undefined),
    new OfflineReview(copy, undefined),
  );
  assert.equal((await bare(`${WORKING}/explanation?path=hull.beam_m`)).status, 403);
});

test('what changes the refit, or is not in the file, is refused in a sentence', async () => {
  for (const refused of [await answer(WORKING, { method: 'PATCH' }), await answer('ffff')]) {
    assert.equal(refused.status, 403);
    assert.match((await refused.json()).detail, /read only/);
  }
});
