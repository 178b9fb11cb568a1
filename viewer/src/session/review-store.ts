/** The review of a boat: revisions, comments, signatures, links. */

import type {
  AttachmentCard,
  ListedRevision,
  Merged,
  NewComment,
  NewLink,
  NewRemark,
  NewShare,
  NewSignature,
  Review,
  ReviewFile,
  ShareCard,
} from '../contract.ts';
import { isMapping } from '../shared/boat/document.ts';
import { Refusal } from './api.ts';
import * as api from './review-api.ts';
import { Store } from './store.ts';

/** Everything that is known, as last answered. */
export interface ReviewState {
  readonly review: Review | undefined;
  readonly revisions: readonly ListedRevision[];
  readonly shares: readonly ShareCard[];
  readonly attachments: readonly AttachmentCard[];
  /** Why it could not be read anew, or empty. */
  readonly trouble: string;
}

const LARGEST_REVIEW = 4 * 2 ** 20;

type Unsent<New> = Omit<New, 'id' | 'author'>;

const NOTHING_READ: ReviewState = {
  review: undefined,
  revisions: [],
  shares: [],
  attachments: [],
  trouble: '',
};

export class ReviewStore extends Store<ReviewState> {
  readonly refit: string;
  private readonly isOwner: boolean;
  private asked = 0;

  /** Links are for the owner alone. */
  constructor(refit: string, isOwner: boolean) {
    super(NOTHING_READ);
    this.refit = refit;
    this.isOwner = isOwner;
  }

  /** Reads everything anew; what was asked for later wins. */
  async refresh(): Promise<void> {
    this.asked += 1;
    const request = this.asked;
    try {
      const [review, revisions, attachments, shares] = await Promise.all([
        api.review(this.refit),
        api.revisions(this.refit),
        api.attachments(this.refit),
        this.isOwner ? api.shares(this.refit) : [],
      ]);
      if (request === this.asked)
        this.change({ review, revisions, attachments, shares, trouble: '' });
    } catch (error) {
      if (request === this.asked) this.change({ trouble: whyNot(error) });
    }
  }

  /**
   * Reads what an edit of the boat may have changed (signatures go stale, comments lose their
   * places); nothing if the review is empty. Events announce the rest.
   */
  async afterEdit(): Promise<void> {
    const { review } = this.state;
    if (!review) return this.refresh();
    const { comments, signatures, loose_remarks } = review;
    if ([comments, signatures, loose_remarks].every(({ length }) => length === 0)) return;
    const request = this.asked;
    try {
      const now = await api.review(this.refit);
      if (request === this.asked) this.change({ review: now, trouble: '' });
    } catch (error) {
      if (request === this.asked) this.change({ trouble: whyNot(error) });
    }
  }

  /** Freezes the working copy as it is at an edit; answers the revision's number. */
  async freeze(edit: number, note: string, signal: AbortSignal): Promise<number> {
    const { number } = await api.freeze(this.refit, edit, note, signal);
    await this.refresh();
    return number;
  }

  async comment(entry: Unsent<NewComment>, author: string): Promise<void> {
    const body = { ...entry, id: newId(), ...signedBy(author) };
    this.change({ review: await api.comment(this.refit, body) });
  }

  async remark(on: string, entry: Unsent<NewRemark>, author: string): Promise<void> {
    const body = { ...entry, id: newId(), ...signedBy(author) };
    this.change({ review: await api.remark(this.refit, on, body) });
  }

  async sign(entry: Unsent<NewSignature>, author: string): Promise<void> {
    await api.sign(this.refit, { ...entry, id: newId(), ...signedBy(author) });
    await this.refresh();
  }

  /** Sends files; answers their ids. */
  async attach(files: readonly File[], author: string): Promise<readonly string[]> {
    const cards: AttachmentCard[] = [];
    for (const file of files) cards.push(await api.attach(this.refit, newId(), file, author));
    if (cards.length > 0) this.change({ attachments: [...this.state.attachments, ...cards] });
    return cards.map((card) => card.id);
  }

  /** Deletes a file, or brings it back. */
  async setDeleted(id: string, isDeleted: boolean): Promise<void> {
    const card = await (isDeleted ? api.deleteFile : api.bringBackFile)(this.refit, id);
    const attachments = this.state.attachments.map((one) => (one.id === id ? card : one));
    this.change({ attachments });
  }

  /** Takes up a review file; answers what became of it. */
  async merge(file: File): Promise<Merged> {
    const merged = await api.merge(this.refit, await reviewIn(file));
    await this.refresh();
    return merged;
  }

  async share(wanted: NewShare): Promise<NewLink> {
    const made = await api.share(this.refit, wanted);
    await this.refresh();
    return made;
  }

  async revoke(id: string): Promise<void> {
    await api.revoke(this.refit, id);
    await this.refresh();
  }
}

async function reviewIn(file: File): Promise<ReviewFile> {
  const no = new Error(`${file.name} is not a review saved from a shared page.`);
  if (file.size > LARGEST_REVIEW) throw no;
  const read: unknown = await file
    .text()
    .then(JSON.parse)
    .catch(() => undefined);
  if (!isReviewFile(read)) throw no;
  return read;
}

/** Whether it looks like one; the server looks at the rest. */
const isReviewFile = (read: unknown): read is ReviewFile =>
  isMapping(read) && 'document_sha256' in read;

/** Why something was not done, in words. */
export const whyNot = (error: unknown): string => {
  if (error instanceof Refusal) {
    const sentences = error.problem.faults.map((fault) => fault.sentence);
    return sentences.length > 0 ? sentences.join(' ') : error.message;
  }
  return error instanceof Error ? error.message : 'It was not done.';
};

/** A reviewer's name is known by the link. */
const signedBy = (author: string) => (author ? { author } : {});

/** Bits that are kept and set in the bytes which say version and variant of a random UUID. */
const UUID_BITS: ReadonlyMap<number, readonly [number, number]> = new Map([
  [6, [0x0f, 0x40]],
  [8, [0x3f, 0x80]],
]);

/** An id of the writer's own choosing, so that what is sent twice is there once. */
function newId(): string {
  const random = crypto.getRandomValues(new Uint8Array(16));
  const bytes = random.map((byte, i) => {
    const [kept, set] = UUID_BITS.get(i) ?? [0xff, 0];
    return (byte & kept) | set;
  });
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-');
}
