/** The review as a path of four steps: where each stands, and which comes next. */
import type { ListedRevision, NewShare, ShareCard } from '../contract.ts';
import { threadsOf, timeWords } from '../session/review.ts';
import type { ReviewState } from '../session/review-store.ts';
import { count } from '../shared/words/plain-words.ts';

export type StepId = 'read' | 'freeze' | 'send' | 'answer' | 'sign';

/** What the words of the steps need to know besides the review. */
export interface ReviewContext {
  readonly role: 'owner' | 'reviewer';
  /** Edit of the working copy; undefined where a frozen revision is looked at. */
  readonly edit: number | undefined;
  /** How what is looked at is signed, in the words of the server. */
  readonly standing: string | undefined;
  /** Whether nothing is left to sign for whoever looks. */
  readonly isSigned: boolean;
  readonly now: number;
}

interface ReviewStep {
  readonly id: StepId;
  readonly title: string;
  /** Where it stands, in a few words. */
  readonly state: string;
  readonly isDone: boolean;
}

export interface Path {
  readonly steps: readonly ReviewStep[];
  /** The step to take next; none where all is signed. */
  readonly next: StepId | undefined;
}

/** Whether a link opens no more. */
export const isLinkClosed = (share: ShareCard, now: number): boolean =>
  share.revoked_at !== null || Date.parse(share.expires_at) < now;

/** How many edits lie between the latest revision and the working copy; 0 where none do. */
const editsSince = (revisions: readonly ListedRevision[], edit: number | undefined) =>
  edit === undefined ? 0 : edit - (revisions.at(-1)?.edit ?? edit);

/** The steps of the owner or of a reviewer, and which of them is next. */
export function pathOf(state: ReviewState, context: ReviewContext): Path {
  const last = [answering(state), signing(context)];
  const steps =
    context.role === 'owner'
      ? [freezing(state, context), sending(state, context), ...last]
      : [reading(state), ...last];
  return { steps, next: nextOf(state, steps) };
}

/** Comments come first, signed or not: what they ask for is frozen and sent with their answers. */
function nextOf(state: ReviewState, steps: readonly ReviewStep[]): StepId | undefined {
  const isOwner = steps[0]?.id === 'freeze';
  if (isOwner && openIn(state) > 0) return 'answer';
  const isDone = steps.at(-1)?.isDone;
  if (isDone) return undefined;
  return isOwner ? steps.find((step) => !step.isDone)?.id : 'sign';
}

const openIn = ({ review }: ReviewState): number =>
  threadsOf(review).filter(({ comment }) => comment.state === 'open').length;

function freezing({ revisions }: ReviewState, { edit }: ReviewContext): ReviewStep {
  const latest = revisions.at(-1);
  const since = editsSince(revisions, edit);
  const state = latest
    ? `revision ${latest.number}, ${timeWords(latest.made_at)}` +
      (since > 0 ? `; ${count(since, 'edit')} since` : '')
    : 'nothing frozen yet';
  return { id: 'freeze', title: 'Freeze', state, isDone: latest !== undefined && since === 0 };
}

function sending({ revisions, shares }: ReviewState, { now }: ReviewContext): ReviewStep {
  const latest = revisions.at(-1)?.number;
  const [sent] = shares
    .filter(
      (one) => !isLinkClosed(one, now) && latest !== undefined && one.revisions.includes(latest),
    )
    .toReversed();
  return { id: 'send', title: 'Send', state: sentWords(latest, sent), isDone: sent !== undefined };
}

function sentWords(latest: number | undefined, sent: ShareCard | undefined): string {
  if (latest === undefined) return 'nothing to send yet';
  if (!sent) return `no open link to revision ${latest}`;
  return sent.reviewer
    ? `opened by ${sent.reviewer}`
    : `link for ${sent.label}${sent.last_used_at ? '' : ', not opened yet'}`;
}

function reading({ revisions }: ReviewState): ReviewStep {
  const state = revisions.length > 0 ? count(revisions.length, 'revision') : 'the working copy';
  return { id: 'read', title: 'Read', state, isDone: true };
}

function answering(state: ReviewState): ReviewStep {
  const all = threadsOf(state.review).length;
  const open = openIn(state);
  const words = all === 0 ? 'no comments yet' : `${open} open, ${all - open} closed`;
  return { id: 'answer', title: 'Answer', state: words, isDone: open === 0 };
}

const signing = ({ standing, isSigned }: ReviewContext): ReviewStep => ({
  id: 'sign',
  title: 'Sign',
  state: standing ?? '…',
  isDone: isSigned,
});

const DAY_S = 86_400;
export const USUAL_DAYS = 30;

/** Whom a link is for where nobody says: whoever had the last one. */
export const usualLabel = (shares: readonly ShareCard[]): string =>
  shares.at(-1)?.label ?? 'the consultant';

export const newLink = (label: string, revisions: number[], days: number): NewShare => ({
  label,
  revisions,
  opens_for_s: days * DAY_S,
});
