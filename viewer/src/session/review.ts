/** What was said of the boat, in words and in order: pins, threads, signatures, values. */
import type {
  Comment,
  ListedRevision,
  NewRemark,
  PinOutput,
  Review,
  ReviewStatus,
  Signature,
} from '../contract.ts';
import type { Spot } from '../scene/aim.ts';
import { CHANGE_GROUPS } from '../shared/words/constants.ts';
import { placeWords } from '../shared/words/numbers.ts';
import { answerKeyWords, lastKey, plainWords, title } from '../shared/words/plain-words.ts';

type CommentKind = Comment['kind'];
type Gate = NonNullable<Comment['gate']>;
type SignedVerdict = Signature['verdict'];
export const COMMENT_KINDS: readonly CommentKind[] = ['question', 'defect', 'condition'];
export const GATES: readonly Gate[] = [
  'before-cutting',
  'before-welding-out',
  'before-launch',
  'after-inclining',
];
export const VERDICTS: readonly SignedVerdict[] = [
  'agreed',
  'agreed-with-conditions',
  'send-again',
  'not-looked-at',
];
export const KIND_WORDS: Readonly<Record<CommentKind, string>> = {
  question: 'Question',
  defect: 'Defect',
  condition: 'Condition',
};
export const GATE_WORDS: Readonly<Record<Gate, string>> = {
  'before-cutting': 'before cutting',
  'before-welding-out': 'before welding out',
  'before-launch': 'before launch',
  'after-inclining': 'after inclining',
};
export const REMARK_WORDS: Readonly<Record<NewRemark['kind'], string>> = {
  reply: 'replied',
  closing: 'closed it',
  reopening: 'opened it again',
};

/** Part or path that a comment is about, without plate and point. */
const concernOf = (on: PinOutput): string => on.part ?? on.path ?? '';

/** What a comment is about, in words. */
export function pinWords({ part, plate, path, point_m: point }: PinOutput): string {
  if (path) return pathWords(path);
  if (!part) return 'The whole refit';
  const words = [title(lastKey(part))];
  if (plate) words.push(plainWords(plate.replace(`${part}.`, '')));
  if (point) words.push(placeWords(point));
  return words.join(', ');
}

/** A pin at a place that was pressed in the drawing. */
export const pinOn = ({ piece, plate, point }: Spot): PinOutput => ({
  part: piece,
  plate: plate?.replace(`${piece}.`, '') ?? null,
  path: null,
  point_m: point,
});

/** A dotted path in words, what it belongs to first. */
export function pathWords(path: string): string {
  const [section = '', name = '', ...rest] = path.split('.');
  if (!name) return title(section);
  const begins = ['changes', 'parts', 'conditions'].includes(section) ? '' : `${title(section)}: `;
  const steps = rest.filter((step) => ![...CHANGE_GROUPS, 'refit'].some((one) => one === step));
  return [`${begins}${begins ? plainWords(name) : title(name)}`, ...steps.map(answerKeyWords)].join(
    ', ',
  );
}

export interface Thread {
  readonly comment: Comment;
  /** The same on the page, in the drawing and when it is spoken of. */
  readonly number: number;
}
interface Concern {
  readonly about: string;
  readonly words: string;
  readonly threads: readonly Thread[];
}

/** All comments numbered as they came. */
export const threadsOf = (review: Review | undefined): readonly Thread[] =>
  (review?.comments ?? []).map((comment, i) => ({ comment, number: i + 1 }));

/** Threads by what they concern, the whole refit first, what is open before what is closed. */
export function concernsOf(threads: readonly Thread[]): readonly Concern[] {
  const about = [...new Set(threads.map(({ comment }) => concernOf(comment.on)))];
  about.sort((a, b) => Number(a !== '') - Number(b !== ''));
  return about.map((one) => ({
    about: one,
    words: pinWords({ part: null, path: null, plate: null, point_m: null, ...named(one, threads) }),
    threads: threads
      .filter(({ comment }) => concernOf(comment.on) === one)
      .toSorted(
        (a, b) => Number(a.comment.state === 'closed') - Number(b.comment.state === 'closed'),
      ),
  }));
}

function named(about: string, threads: readonly Thread[]): Partial<PinOutput> {
  const on = threads.find(({ comment }) => concernOf(comment.on) === about)?.comment.on;
  return on?.part ? { part: on.part } : { path: about || null };
}

/** Open comments about something at a path or below it, and about parts it builds. */
export const openAbout = (
  threads: readonly Thread[],
  path: string,
  parts: readonly string[],
): readonly Thread[] =>
  threads.filter(({ comment: { on, state } }) => {
    if (state === 'closed') return false;
    if (on.part) return parts.includes(on.part);
    return on.path !== null && (on.path === path || on.path.startsWith(`${path}.`));
  });

/** The verdict of each reviewer on a part, or on the whole refit where `part` is null. */
export const verdictsOn = (
  signatures: readonly Signature[],
  part: string | null,
): readonly Signature[] => signatures.filter((one) => one.part === part && !one.is_superseded);

/** Where the revision that is looked at stands, or the working copy. */
export function standingOf(
  review: Review | undefined,
  revisions: readonly ListedRevision[],
  revision: number | undefined,
): ReviewStatus | undefined {
  if (revision === undefined) return review?.standing;
  return revisions.find((one) => one.number === revision)?.standing;
}

/** What is looked at and can be signed, under one hash. */
export interface Signable {
  readonly words: string;
  readonly sha256: string;
  /** Its number; null where it is a document of no revision. */
  readonly revision: number | null;
}

/** A frozen revision as it is looked at; undefined for the working copy. */
export function signableRevision(
  revisions: readonly ListedRevision[],
  number: number | undefined,
): Signable | undefined {
  const found = revisions.find((one) => one.number === number);
  return found && { words: `revision ${number}`, sha256: found.sha256, revision: found.number };
}

/** The revision somebody looked at last: signed in whole or part; else the one before `than`. */
export function lastReviewed(
  revisions: readonly ListedRevision[],
  signatures: readonly Signature[],
  than: number | undefined,
): number | undefined {
  const earlier = revisions.map((one) => one.number).filter((n) => n < (than ?? Infinity));
  const signed = signatures.flatMap(({ revision, verdict }) =>
    revision !== null && verdict !== 'not-looked-at' ? [revision] : [],
  );
  return earlier.filter((n) => signed.includes(n)).at(-1) ?? earlier.at(-1);
}

/** A time as people write it. */
export const timeWords = (at: string): string =>
  new Date(at).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

/** When it was written, and when it arrived where that is another time. */
export function whenWords(one: Pick<Signature, 'written_at' | 'arrived_at'>): string {
  const written = timeWords(one.written_at);
  const arrived = one.arrived_at === null ? written : timeWords(one.arrived_at);
  return written === arrived ? written : `written ${written}, arrived ${arrived}`;
}

/** The first signs of a hash, enough to compare by eye. */
export const shortHash = (sha256: string): string => sha256.slice(0, 8);
