/** Answers what a server would be asked for, from the file that holds the refit. */
import type {
  Explanation,
  NewComment,
  NewRemark,
  NewSignature,
  Problem,
  RecordAnswer,
  Working,
} from '../contract.ts';
import type { Island, OfflineCopy } from './offline-copy.ts';
import type { OfflineReview } from './offline-review.ts';

const problem = (status: number, code: string, title: string, detail: string): Problem => ({
  type: 'about:blank',
  title,
  status,
  detail,
  code,
  faults: [],
});
const READ_ONLY = problem(
  403,
  'read-only',
  'Read only',
  'This file is read only: ask its owner for the change.',
);
const BLANK = problem(422, 'nothing-said', 'Nothing said', 'Write something first.');

const UNCONDITIONED = problem(
  422,
  'no-condition',
  'No condition',
  'An agreement with conditions names one at least, and no other word names any.',
);
const MOST_CONDITIONS = 100;
const TOO_MANY = problem(
  422,
  'too-many',
  'Too many conditions',
  `A signature names ${MOST_CONDITIONS} conditions at most: put several on one line.`,
);

/** Answers in the place of `fetch`, from what is kept and what is said here. */
export function answersFrom(kept: OfflineCopy, island: Island, filed: OfflineReview) {
  const opened = memo(async () => {
    const packed = island('explanations');
    return (packed === undefined ? {} : await unpacked(packed).json()) as Opened;
  });
  const explained = async (path: string) => {
    const found = (await opened())[path];
    return found ? Response.json(found) : refusal();
  };
  return async (path: string, init: RequestInit = {}): Promise<Response> => {
    const address = new URL(path, 'file:///');
    const name = address.pathname.split('/').slice(4).join('/');
    if (init.method === 'POST') return told(filed, name, String(init.body));
    if ((init.method ?? 'GET') !== 'GET') return refusal();
    if (name === 'review') return Response.json(filed.review);
    if (name === 'revisions') return Response.json(kept.reviewed?.revisions ?? []);
    if (name === 'attachments') return Response.json([]);
    if (name.includes('/since/') && kept.reviewed?.since) return Response.json(kept.reviewed.since);
    if (address.pathname === '/api/refits') return Response.json(kept.refits);
    if (address.pathname === '/api/kinds') return Response.json(kept.kinds);
    if (address.pathname === '/api/cautions') return Response.json(kept.cautions);
    if (address.pathname.endsWith('/record')) return Response.json(recordOf(kept));
    if (address.pathname.endsWith('/working'))
      return Response.json(lookedAt(kept, address.searchParams.get('condition')));
    if (address.pathname.endsWith('/explanation'))
      return explained(address.searchParams.get('path') ?? '');
    const mesh = island(address.pathname.slice(1));
    return mesh === undefined ? refusal() : unpacked(mesh);
  };
}

/** Takes what is said, as a server would. */
function told(filed: OfflineReview, name: string, body: string): Response {
  const [kind, comment, what] = name.split('/');
  const said = JSON.parse(body) as Readonly<Record<string, unknown>>;
  const words = [said.author, said.text ?? said.scope];
  if (words.some((one) => !String(one ?? '').trim())) return refusal(BLANK);
  if (kind === 'comments' && comment && what === 'remarks')
    filed.remark(comment, said as unknown as NewRemark);
  else if (kind === 'comments') filed.comment(said as unknown as NewComment);
  else if (kind === 'signatures') return signed(filed, said as unknown as NewSignature);
  else return refusal();
  return Response.json(filed.review);
}

function signed(filed: OfflineReview, said: NewSignature): Response {
  const count = said.conditions?.length ?? 0;
  if ((said.verdict === 'agreed-with-conditions') !== count > 0) return refusal(UNCONDITIONED);
  if (count > MOST_CONDITIONS) return refusal(TOO_MANY);
  filed.sign(said);
  return Response.json(filed.review);
}

type Opened = Readonly<Record<string, Explanation>>;

/** An answer that is worked out once, when it is first asked for. */
function memo<T>(work: () => T): () => T {
  let answer: { readonly value: T } | undefined;
  return () => (answer ??= { value: work() }).value;
}

const recordOf = ({ working }: OfflineCopy): RecordAnswer => ({
  edit: working.edit,
  record: working.assessment.record,
});

function lookedAt({ working, profiles }: OfflineCopy, condition: string | null): Working {
  const profile = condition === null ? undefined : profiles[condition];
  return condition === null || !profile ? working : { ...working, condition, profile };
}

const refusal = (why = READ_ONLY) =>
  new Response(JSON.stringify(why), {
    status: why.status,
    headers: { 'content-type': 'application/problem+json' },
  });

function unpacked(packed: string): Response {
  const bytes = Uint8Array.from(atob(packed), (sign) => sign.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip')));
}
