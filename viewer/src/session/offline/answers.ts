/** Answers what a server would be asked for, from the file that holds the refit. */

import type {
  ConditionResult,
  Explanation,
  NewComment,
  NewRemark,
  NewSignature,
  RecordAnswer,
  Working,
} from '../../contract.ts';
import { MOST_CONDITIONS, NO_CONDITION } from '../../shared/words/constants.ts';
import { problem } from '../api.ts';
import { answerIn, parsed } from '../wire.ts';
import type { DataBlock, FormsAndProfiles, OfflineCopy } from './copy.ts';
import { withComma } from './decimal-comma.ts';
import type { OfflineReview } from './review.ts';

const READ_ONLY = problem(
  403,
  'read-only',
  'Read only',
  'This file is read only: ask its owner for the change.',
);
const BLANK = problem(422, 'nothing-said', 'Nothing said', 'Write something first.');

const UNCONDITIONED = problem(422, 'no-condition', 'No condition', NO_CONDITION);
const TOO_MANY = problem(
  422,
  'too-many',
  'Too many conditions',
  `A signature names ${MOST_CONDITIONS} conditions at most: put several on one line.`,
);

/** Answers in the place of `fetch`, from what the file holds and what is written in it. */
export function answersFrom(copy: OfflineCopy, dataBlock: DataBlock, review: OfflineReview) {
  const explanations = packedIn<Explanation>(dataBlock, 'explanations');
  const held = packedIn<HeldByStage>(dataBlock, 'held');
  const files = packedIn<string>(dataBlock, 'files');
  const more = memo(
    (): Promise<FormsAndProfiles> => answerIn(unpacked(dataBlock('forms-and-profiles') ?? '')),
  );
  const answers: readonly AddressAnswer[] = [
    [/^\/api\/refits$/, () => copy.refits],
    [/^\/api\/kinds$/, async () => (await more()).kinds],
    [/^\/api\/grammar$/, async () => (await more()).grammar],
    [/^\/api\/cautions$/, () => copy.cautions],
    [/^\/api\/refits\/[^/]+\/review$/, () => review.review],
    [/^\/api\/refits\/[^/]+\/revisions$/, () => copy.reviewed?.revisions ?? []],
    [/^\/api\/refits\/[^/]+\/attachments$/, () => []],
    [/\/since\//, () => copy.reviewed?.since],
    [/\/record$/, () => recordOf(copy)],
    [
      /\/working$/,
      async (query) => lookedAt(copy, query.get('condition'), await held(), await more()),
    ],
    [/\/files\/levers\.csv$/, async (query) => fileIn(await files(), 'levers.csv', query)],
    ...['lines.csv', 'offsets.csv', 'lines-plan.svg'].map(
      (name): AddressAnswer => [
        new RegExp(`/files/${name.replace('.', '\\.')}$`),
        async (query) => fileIn(await files(), name, query),
      ],
    ),
    [/\/explanation$/, async (query) => (await explanations())[query.get('path') ?? '']],
  ];
  const read = async ({ pathname, searchParams }: URL): Promise<Response> => {
    const answer = await answers.find(([path]) => path.test(pathname))?.[1](searchParams);
    if (answer) return answer instanceof Response ? answer : Response.json(answer);
    const mesh = dataBlock(pathname.slice(1));
    return mesh === undefined ? refusal() : unpacked(mesh);
  };
  return async (path: string, { method = 'GET', body }: RequestInit = {}): Promise<Response> => {
    const address = new URL(path, 'file:///');
    if (method === 'GET') return read(address);
    return method === 'POST' ? written(review, address, String(body)) : refusal();
  };
}

/** Which addresses are answered, and with what. */
type AddressAnswer = readonly [path: RegExp, (query: URLSearchParams) => unknown];

/** Takes comments, remarks and signatures, as a server would. */
function written(review: OfflineReview, { pathname }: URL, body: string): Response {
  const [kind, comment, what] = pathname.split('/').slice(4);
  if (isBlank(body)) return refusal(BLANK);
  if (kind === 'signatures') return signed(review, parsed<NewSignature>(body));
  if (kind !== 'comments') return refusal();
  if (comment && what === 'remarks') review.remark(comment, parsed<NewRemark>(body));
  else review.comment(parsed<NewComment>(body));
  return Response.json(review.review);
}

/** Whether it has no author, or says nothing. */
function isBlank(body: string): boolean {
  const { author, text, scope } = parsed<Partial<NewComment & NewSignature>>(body);
  return !author?.trim() || !(text ?? scope)?.trim();
}

function signed(review: OfflineReview, signature: NewSignature): Response {
  const count = signature.conditions?.length ?? 0;
  if ((signature.verdict === 'agreed-with-conditions') !== count > 0) return refusal(UNCONDITIONED);
  if (count > MOST_CONDITIONS) return refusal(TOO_MANY);
  review.sign(signature);
  return Response.json(review.review);
}

/** Boats held at every degree, by stage. */
type HeldByStage = Readonly<Partial<Record<string, ConditionResult['held']>>>;
type Packed<T> = Readonly<Partial<Record<string, T>>>;

/** What a packed block of the file holds, by name; nothing where the file has no such block. */
const packedIn = <T>(dataBlock: DataBlock, name: string) =>
  memo(async (): Promise<Packed<T>> => {
    const packed = dataBlock(name);
    return packed === undefined ? {} : answerIn(unpacked(packed));
  });

/** A table in the file, under the name that a browser is to call it. */
function fileIn(files: Packed<string>, name: string, query: URLSearchParams): unknown {
  const condition = name === 'levers.csv' ? query.get('condition') : null;
  const text = files[keyOf(name, condition, query.get('units'))];
  if (text === undefined) return undefined;
  const called = condition === null ? name : `${condition}-${name}`;
  const isComma = query.get('decimal') === 'comma' && name.endsWith('.csv');
  return new Response(isComma ? withComma(text) : text, {
    headers: {
      'content-type': name.endsWith('.svg') ? 'image/svg+xml' : 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="${called}"`,
    },
  });
}

/** Under which key a table is kept, metric or in feet. */
function keyOf(name: string, condition: string | null, units: string | null): string {
  const words = [
    ...(condition === null ? [] : [`condition=${condition}`]),
    ...(units === 'imperial' ? ['units=imperial'] : []),
  ];
  return [name, words.join('&')].filter(Boolean).join('?');
}

/** An answer that is worked out once, when it is first asked for. */
function memo<T>(work: () => T): () => T {
  let answer: { readonly value: T } | undefined;
  return () => {
    answer ??= { value: work() };
    return answer.value;
  };
}

const recordOf = ({ working }: OfflineCopy): RecordAnswer => ({
  edit: working.edit,
  record: working.assessment.record,
});

function lookedAt(
  { working }: OfflineCopy,
  asked: string | null,
  held: Packed<HeldByStage>,
  { profiles }: FormsAndProfiles,
): Working {
  const condition = asked !== null && profiles[asked] ? asked : working.condition;
  const conditions = working.assessment.conditions.map((row) =>
    row.id === condition && !('unanswered' in row)
      ? { ...row, held: held[condition]?.[row.stage] ?? null }
      : row,
  );
  return {
    ...working,
    condition,
    profile: profiles[condition] ?? working.profile,
    assessment: { ...working.assessment, conditions },
  };
}

/** A problem as a server answers it. */
export const refusal = (why = READ_ONLY) =>
  new Response(JSON.stringify(why), {
    status: why.status,
    headers: { 'content-type': 'application/problem+json' },
  });

function unpacked(packed: string): Response {
  const bytes = Uint8Array.from(atob(packed), (sign) => sign.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip')));
}
