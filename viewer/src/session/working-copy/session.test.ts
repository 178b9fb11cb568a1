import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { found } from '../../testing/answers.ts';
import { Session } from './session.ts';
import { isWaiting, type Snapshot, savedWord } from './snapshot.ts';

const HEIGHT = 'changes.deckhouse.parts.house.side_height_m';
interface Asked {
  readonly method: string;
  readonly path: string;
  readonly match: string | null;
  readonly body:
    | { readonly label: string; readonly steps: readonly Step[]; readonly levers?: boolean }
    | undefined;
}
interface Step {
  readonly op: string;
  readonly path: string;
  readonly value: unknown;
}
const asked: Asked[] = [];
const answers: Response[] = [];

const working = (edit: number, more = {}) => ({
  edit,
  partial: false,
  saved: true,
  document: {},
  undo_label: 'x',
  redo_label: '',
  assessment: { items: [], changes: [], parts: [], replaced: [], conditions: [] },
  ...more,
});
const json = (value: unknown, status = 200) =>
  new Response(JSON.stringify(value), {
    status,
    headers: { 'content-type': status < 400 ? 'application/json' : 'application/problem+json' },
  });
const problem = (status: number, sentence: string, more: object = {}) =>
  json(
    {
      title: 'Refused',
      status,
      detail: sentence,
      code: 'x',
      faults: status === 422 ? [{ code: 'x', place: HEIGHT, sentence }] : [],
      ...more,
    },
    status,
  );

globalThis.fetch = async (path, init = {}) => {
  if (String(path).includes('/record'))
    return json({ edit: 0, record: { state: 'left out', parts: [] } });
  const body = init.body ? JSON.parse(String(init.body)) : undefined;
  asked.push({
    method: init.method ?? 'GET',
    path: String(path),
    match: new Headers(init.headers).get('if-match'),
    body,
  });
  const answer = answers.shift();
  if (!answer) throw new TypeError('no network');
  return answer;
};

async function opened(option: string | null = null) {
  answers.length = 0;
  answers.push(json(working(7, { document: { options: { low: { set: { a: 1 } } } } })));
  const session = new Session('saltmarrow', { condition: 'departure', option });
  const seen: Snapshot[] = [];
  session.watch((s) => seen.push(s));
  session.refresh();
  await turn();
  asked.length = 0;
  return { session, now: () => found(seen.at(-1)) };
}
const turn = () => new Promise((resolve) => setTimeout(resolve, 20));
afterEach(() => new Promise((resolve) => setTimeout(resolve, 300)));

test('a value is sent with the number of the edit it was made on', async () => {
  const { session, now } = await opened();
  answers.push(json(working(8, { partial: true })), json(working(8)));
  session.set(HEIGHT, 0.6, 'side height 600 mm', 'drag-1');
  assert.equal(now().drafts.get(HEIGHT)?.value, 0.6);
  await turn();
  assert.deepEqual(asked[0], {
    method: 'PATCH',
    path: '/api/refits/saltmarrow/revisions/working?condition=departure',
    match: '"7"',
    body: {
      label: 'side height 600 mm',
      gesture: 'drag-1',
      condition: 'departure',
      steps: [{ op: 'set', path: HEIGHT, value: 0.6 }],
    },
  });
  assert.equal(now().working?.edit, 8);
  assert.equal(now().drafts.size, 0);
});

test('a refused value stays in its field with the reason, the boat stays as she was', async () => {
  const { session, now } = await opened();
  answers.push(problem(422, 'A window 240 mm high does not fit.'));
  session.set(HEIGHT, 0.2, 'side height 200 mm');
  await turn();
  assert.equal(now().working?.edit, 7);
  assert.equal(now().drafts.get(HEIGHT)?.value, 0.2);
  assert.deepEqual(now().refused.get(HEIGHT), {
    label: 'side height 200 mm',
    reasons: ['A window 240 mm high does not fit.'],
  });
  answers.push(json(working(8)), json(working(8)));
  session.set(HEIGHT, 0.5, 'side height 500 mm');
  await turn();
  assert.equal(now().refused.size + now().drafts.size, 0);
});

test('a refused value goes with the next one of its group where neither stands alone', async () => {
  const { session, now } = await opened();
  const other = HEIGHT.replace('side_height', 'roof_camber');
  answers.push(problem(422, 'Not with this camber.'));
  session.set(HEIGHT, 0.2, 'side height 200 mm');
  await turn();
  answers.push(problem(422, 'Not with this height.'), json(working(8)), json(working(8)));
  session.set(other, 0.1, 'camber 100 mm');
  await turn();
  const paths = asked.map(({ body }) => body?.steps.map((step) => step.path));
  assert.deepEqual(paths.slice(0, 3), [[HEIGHT], [other], [HEIGHT, other]]);
  assert.equal(now().refused.size + now().drafts.size, 0);
  assert.equal(now().working?.edit, 8);
});

test('where they are refused together too, the new one says why it was alone', async () => {
  const { session, now } = await opened();
  const other = HEIGHT.replace('side_height', 'roof_camber');
  answers.push(problem(422, 'Too low.'));
  session.set(HEIGHT, 0.2, 'side height 200 mm');
  await turn();
  answers.push(problem(422, 'Too flat.'), problem(422, 'Both.'));
  session.set(other, 0.1, 'camber 100 mm');
  await turn();
  assert.deepEqual(now().refused.get(other)?.reasons, ['Too flat.']);
  assert.deepEqual(now().refused.get(HEIGHT)?.reasons, ['Too low.']);
});

test('a refused value keeps what the server offers instead', async () => {
  const { session, now } = await opened();
  const offers = [{ sentence: 'Works.', values: [{ path: HEIGHT, value: 0.47 }] }];
  answers.push(problem(422, 'Too low.', { offers }));
  session.set(HEIGHT, 0.05, 'side height 50 mm');
  await turn();
  assert.deepEqual(now().refused.get(HEIGHT)?.offers, offers);
});

test('overtaken: the boat is loaded again, the value kept, and it is said', async () => {
  const { session, now } = await opened();
  answers.push(problem(412, 'Somebody else'), json(working(12, house(0.7))));
  answers.push(json(working(12)), json(working(12)));
  session.set(HEIGHT, 0.6, 'side height 600 mm');
  await turn();
  assert.equal(now().working?.edit, 12);
  assert.equal(now().drafts.get(HEIGHT)?.value, 0.6);
  assert.match(now().notice, /Someone else .* kept/);
});

test('under an option a value is sent as it is seen: the server says where it lands', async () => {
  const { session } = await opened('low');
  answers.push(json(working(8)), json(working(8)));
  session.set(HEIGHT, 0.4, 'side height 400 mm');
  await turn();
  assert.match(asked[0]?.path ?? '', /option=low/);
  assert.deepEqual(asked[0]?.body?.steps, [{ op: 'set', path: HEIGHT, value: 0.4 }]);
});

test('where levers are looked at, undo asks for them, and the whole answer follows', async () => {
  const { session, now } = await opened();
  session.levers = true;
  answers.push(json(working(8, { partial: true })), json(working(8)));
  session.undoOrRedo('undo');
  await turn();
  assert.equal(asked[0]?.path.split('/').at(-1), 'undo?condition=departure&levers=true');
  assert.equal(now().working?.partial, true);
  await new Promise((resolve) => setTimeout(resolve, 250));
  assert.equal(asked[1]?.path.split('/').at(-1), 'working?condition=departure&full=true');
  assert.equal(now().full?.edit, 8);
});

test('of a drag the newest value is sent once the one before is answered; levers follow', async () => {
  const { session, now } = await opened();
  session.levers = true;
  const conditions = [{ righting_levers: null }];
  const partial = { partial: true, assessment: { ...working(8).assessment, conditions } };
  answers.push(json(working(8, partial)), json(working(9, partial)), json(working(9)));
  for (const height of [0.6, 0.61, 0.62, 0.63])
    session.set(HEIGHT, height, 'side height', 'drag-1');
  assert.equal(asked.length, 1);
  await turn();
  const sent = asked.map(({ match, body }) => [match, body?.steps[0]?.value, body?.levers]);
  assert.deepEqual(sent, [
    ['"7"', 0.6, undefined],
    ['"8"', 0.63, undefined],
  ]);
  assert.equal(now().working?.edit, 9);
  assert.equal(now().drafts.size, 0);
  await new Promise((resolve) => setTimeout(resolve, 250));
  assert.match(asked[2]?.path ?? '', /full=false&levers=true$/);
});

test('a server that does not answer is said in words', async () => {
  const { session, now } = await opened();
  session.undoOrRedo('undo');
  await turn();
  assert.match(now().notice, /does not answer/);
});

const house = (height: number, more = {}) => ({
  document: { changes: { deckhouse: { parts: { house: { side_height_m: height } } } } },
  ...more,
});

test("somebody else's edit is shown at once, then all of it", async () => {
  const { session, now } = await opened();
  answers.push(json(working(8, { partial: true })), json(working(8)));
  session.heard(8);
  session.heard(8);
  await turn();
  assert.equal(now().working?.edit, 8);
  assert.equal(asked[0]?.path.split('/').at(-1), 'working?condition=departure&full=false');
  await new Promise((resolve) => setTimeout(resolve, 250));
  assert.equal(asked[1]?.path.split('/').at(-1), 'working?condition=departure&full=true');
  session.heard(8);
  await turn();
  assert.equal(asked.length, 2);
});

test('an edit is resent when the other edit left its value alone', async () => {
  const { session, now } = await opened();
  answers.push(json(working(8, house(0.5))), json(working(8, house(0.5))));
  session.heard(8);
  await turn();
  asked.length = 0;
  answers.length = 0;
  answers.push(problem(412, 'Somebody else'), json(working(9, house(0.5))));
  answers.push(json(working(10, house(0.6))), json(working(10, house(0.6))));
  session.set(HEIGHT, 0.6, 'side height 600 mm');
  await turn();
  assert.deepEqual(
    asked.slice(0, 3).map(({ method, match }) => [method, match]),
    [
      ['PATCH', '"8"'],
      ['GET', null],
      ['PATCH', '"9"'],
    ],
  );
  assert.equal(now().working?.edit, 10);
  assert.equal(now().drafts.size, 0);
  assert.equal(now().notice, '');
});

test('where the same value was changed it is kept in its field, and said', async () => {
  const { session, now } = await opened();
  answers.push(json(working(8, house(0.5))), json(working(8, house(0.5))));
  session.heard(8);
  await turn();
  answers.length = 0;
  answers.push(problem(412, 'Somebody else'), json(working(9, house(0.7))));
  answers.push(json(working(9, house(0.7))), json(working(9, house(0.7))));
  session.set(HEIGHT, 0.6, 'side height 600 mm');
  await turn();
  assert.equal(now().working?.edit, 9);
  assert.equal(now().drafts.get(HEIGHT)?.value, 0.6);
  assert.match(now().notice, /Someone else .* kept/);
});

test('a boat that cannot be answered any more is said until she can, and a value is refused', async () => {
  const { session, now } = await opened();
  answers.push(problem(422, 'She sinks.'));
  session.heard(8);
  await turn();
  assert.match(now().stuck, /She sinks/);
  assert.equal(now().working?.edit, 7);
  answers.length = 0;
  answers.push(
    problem(412, 'Somebody else'),
    problem(422, 'She sinks.'),
    problem(422, 'She sinks.'),
  );
  session.set(HEIGHT, 0.6, 'side height 600 mm');
  await turn();
  assert.deepEqual(now().refused.get(HEIGHT)?.reasons, ['Somebody else']);
  assert.equal(now().notice, '');
  answers.length = 0;
  answers.push(json(working(9, house(0.5))), json(working(9, house(0.5))));
  session.heard(9);
  await turn();
  assert.equal(now().stuck, '');
});

test('what is heard while a value is on its way waits for its answer', async () => {
  const { session, now } = await opened();
  answers.push(json(working(8, { partial: true })), json(working(8)));
  session.set(HEIGHT, 0.6, 'side height 600 mm');
  session.heard(8);
  await turn();
  assert.equal(asked.length, 1);
  assert.equal(now().working?.edit, 8);
});

test('something new answers why it was not taken, and nothing is kept at its path', async () => {
  const { session, now } = await opened();
  answers.push(problem(422, 'A mass is above nought.'));
  assert.deepEqual(await session.add('changes.drive.adds.extra', { mass_kg: -4 }, 'extra'), [
    'A mass is above nought.',
  ]);
  assert.equal(now().refused.size, 0);
  answers.push(json(working(8)));
  assert.deepEqual(await session.add('changes.drive.adds.extra', { mass_kg: 4 }, 'extra'), []);
  assert.equal(now().working?.edit, 8);
});

test('what is set while the server is away is kept, said at its field, and sent when it answers', async () => {
  const { session, now } = await opened();
  session.set(HEIGHT, 0.6, 'side height 600 mm');
  await turn();
  assert.match(now().away, /does not answer/);
  assert.deepEqual(now().unsent, ['side height 600 mm']);
  assert.match(now().refused.get(HEIGHT)?.reasons[0] ?? '', /^Not sent/);
  assert.ok(isWaiting(now(), HEIGHT)); // a handle does not say then that it was refused
  assert.equal(now().drafts.get(HEIGHT)?.value, 0.6);
  session.set(HEIGHT, 0.7, 'side height 700 mm');
  await turn();
  assert.deepEqual(now().unsent, ['side height 700 mm']);
  asked.length = 0;
  answers.push(json(working(7)), json(working(8)), json(working(8)));
  session.refresh();
  await turn();
  await turn();
  const sent = asked.filter((one) => one.method === 'PATCH');
  assert.deepEqual(
    sent.map((one) => one.body?.label),
    ['side height 700 mm'],
  );
  assert.equal(now().away + now().unsent.join(''), '');
  assert.equal(now().refused.size + now().drafts.size, 0);
});

test('what has no field is refused under its own name, undo in the bar', async () => {
  const { session, now } = await opened();
  answers.push(problem(422, 'The mast stands on it.'));
  session.send([{ op: 'remove', path: 'changes.house' }], 'House left out');
  await turn();
  assert.deepEqual(now().refused.get('changes.house'), {
    label: 'House left out',
    reasons: ['The mast stands on it.'],
  });
  session.undoOrRedo('undo');
  await turn();
  assert.match(now().notice, /Not done: undo of x/);
});

test('an option that is gone is said, and its edit goes nowhere else', async () => {
  const { session, now } = await opened('low');
  const gone = { title: 'x', status: 422, detail: 'No.', code: 'unknown-option', faults: [] };
  answers.push(json(gone, 422), json(gone, 422));
  session.set(HEIGHT, 0.6, 'side height 600 mm');
  await turn();
  assert.equal(now().gone, 'low');
  assert.match(now().notice, /option low is gone.*Not done: side height 600 mm/);
  answers.push(json(working(9)));
  session.look({ condition: 'departure', option: null });
  await turn();
  assert.equal(now().gone, '');
  assert.equal(now().drafts.size, 0);
});

test('an edit is saved when the file is said to hold it', async () => {
  const { session, now } = await opened();
  answers.push(json(working(8, { saved: false })), json(working(8, { saved: false })));
  session.set(HEIGHT, 0.6, 'side height 600 mm');
  await turn();
  assert.equal(now().savedEdit, 7);
  session.saved(8);
  assert.equal(now().savedEdit, 8);
});

test('saved is said of an edit that the file holds, and of nothing else', () => {
  const calm = { stuck: '', away: '', unsent: [], savedEdit: 8, busy: false };
  const boat = { edit: 8, trouble: '' };
  assert.equal(savedWord(calm, boat), 'saved');
  assert.equal(savedWord({ ...calm, savedEdit: 7 }, boat), 'saving');
  assert.equal(savedWord({ ...calm, busy: true }, boat), 'saving');
  assert.equal(savedWord(calm, { ...boat, trouble: 'The disk is full.' }), 'not saved');
  assert.equal(savedWord({ ...calm, unsent: ['height'] }, boat), 'not saved');
  assert.equal(savedWord({ ...calm, savedEdit: 7, away: 'No answer.' }, boat), 'not saved');
});
