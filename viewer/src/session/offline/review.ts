/** The review in a file that no server answers: kept on the page, saved as a review file. */
import type {
  Comment,
  FiledComment,
  FiledRemark,
  FiledSignature,
  NewComment,
  NewRemark,
  NewSignature,
  Remark,
  Review,
  ReviewFile,
  Signature,
} from '../../contract.ts';
import { NOT_SIGNED, VERDICT_WORDS } from '../../shared/words/constants.ts';
import { type Signable, signableRevision } from '../review.ts';
import { parsed } from '../wire.ts';
import type { OfflineCopy } from './copy.ts';

/** Where it is kept between two visits; a browser may have none. */
export type OwnStorage = Pick<Storage, 'getItem' | 'setItem'>;

const THROUGH = 'this file, not merged yet';

type Records = Required<Pick<ReviewFile, 'comments' | 'remarks' | 'signatures'>>;

const NOTHING: Records = { comments: [], remarks: [], signatures: [] };

export class OfflineReview {
  readonly signable: Signable;
  /** Whether the browser keeps it when the page is closed. */
  isKept = true;
  private readonly copy: OfflineCopy;
  private readonly storage: OwnStorage | undefined;
  private records = NOTHING;
  private saved = NOTHING;

  constructor(copy: OfflineCopy, storage: OwnStorage | undefined) {
    this.copy = copy;
    this.storage = storage;
    this.signable = heldIn(copy);
    this.isKept = storage !== undefined;
    this.open();
  }

  /** How many entries were written here. */
  get count(): number {
    const { comments, remarks, signatures } = this.records;
    return comments.length + remarks.length + signatures.length;
  }

  /** Whether anything was written since the review file was saved last. */
  get isUnsaved(): boolean {
    return this.records !== this.saved;
  }

  /** The whole review: what the file was made with, and what was written since. */
  get review(): Review {
    const before = this.copy.reviewed?.review ?? unsigned(this.copy.working.refit);
    const comments = [...before.comments, ...this.records.comments.map(asComment)];
    const { signatures } = this.records;
    return {
      ...before,
      standing: withVerdicts(before.standing, signatures),
      comments: comments.map((one) => withRemarks(one, this.records.remarks)),
      signatures: [
        ...before.signatures,
        ...signatures.map((one) => asSignature(one, this.signable.revision)),
      ],
    };
  }

  comment(entry: NewComment): void {
    this.add('comments', stamped(entry));
  }

  remark(comment: string, entry: NewRemark): void {
    const { evidence: _, ...words } = entry;
    this.add('remarks', stamped({ ...words, comment }));
  }

  sign(entry: NewSignature): void {
    this.add('signatures', stamped(entry));
  }

  /** The review file: name and text. */
  save(): { readonly name: string; readonly text: string } {
    const { assessment, refit } = this.copy.working;
    const file: ReviewFile = {
      form: 'hullchange review 1',
      boat: assessment.boat,
      document_sha256: assessment.document_sha256,
      ...this.records,
    };
    this.saved = this.records;
    this.withStorage(() =>
      this.storage?.setItem(this.savedKey, JSON.stringify(idsOf(this.records))),
    );
    return {
      name: `${refit.replace(/\.ya?ml$/, '')}-review.json`,
      text: `${JSON.stringify(file, null, 1)}\n`,
    };
  }

  private add<Kind extends keyof Records>(kind: Kind, one: Records[Kind][number]): void {
    // the same file may be open a second time
    const there = both(this.records, this.stored() ?? NOTHING);
    this.records = { ...there, [kind]: [...there[kind], one] };
    this.isKept = this.storage !== undefined;
    this.withStorage(() => this.storage?.setItem(this.key, JSON.stringify(this.records)));
  }

  private get key(): string {
    return `hullchange.review.${this.signable.sha256}`;
  }

  private get savedKey(): string {
    return `${this.key}.saved`;
  }

  private open(): void {
    const left = this.stored();
    if (left) this.records = left;
    else this.isKept = false;
    this.withStorage(() => {
      const saved = new Set(
        parsed<readonly string[]>(this.storage?.getItem(this.savedKey) ?? '[]'),
      );
      if (idsOf(this.records).every((id) => saved.has(id))) this.saved = this.records;
    });
  }

  /** Does what the browser's storage may refuse. */
  private withStorage(act: () => void): void {
    try {
      act();
    } catch {
      this.isKept = false;
    }
  }

  /** What was written at other visits and is not merged yet; undefined where it cannot be read. */
  private stored(): Records | undefined {
    try {
      const text = this.storage?.getItem(this.key);
      if (!text) return NOTHING;
      return without(idsIn(this.copy.reviewed?.review), parsed<Records>(text));
    } catch {
      return undefined;
    }
  }
}

const idsOf = ({ comments, remarks, signatures }: Records): readonly string[] =>
  [...comments, ...remarks, ...signatures].map((one) => one.id);

function idsIn(review: Review | undefined): ReadonlySet<string> {
  if (!review) return new Set();
  const { comments, loose_remarks: loose, signatures } = review;
  const remarks = [...comments.flatMap((one) => one.thread), ...loose];
  return new Set([...comments, ...remarks, ...signatures].map((one) => one.id));
}

function without(ids: ReadonlySet<string>, { comments, remarks, signatures }: Records): Records {
  const isNew = (one: { readonly id: string }) => !ids.has(one.id);
  return {
    comments: comments.filter(isNew),
    remarks: remarks.filter(isNew),
    signatures: signatures.filter(isNew),
  };
}

/** Of two states of one file everything, each once. */
function both(one: Records, other: Records): Records {
  const own = [...one.comments, ...one.remarks, ...one.signatures].map(({ id }) => id);
  const more = without(new Set(own), other);
  return {
    comments: [...one.comments, ...more.comments],
    remarks: [...one.remarks, ...more.remarks],
    signatures: [...one.signatures, ...more.signatures],
  };
}

function heldIn({ reviewed, working }: OfflineCopy): Signable {
  const revisions = reviewed?.revisions ?? [];
  const revision = signableRevision(revisions, revisions.at(-1)?.number);
  const { document_sha256: sha256 } = working.assessment;
  return revision ?? { words: 'this document', sha256, revision: null };
}

/** What the file was made with, and every verdict given in it: which counts, a merge decides. */
function withVerdicts(
  standing: Review['standing'],
  given: readonly FiledSignature[],
): Review['standing'] {
  const verdicts = given.map(
    ({ verdict, author }) =>
      `“${VERDICT_WORDS[verdict]}” of ${author}, given in this file, counts once the owner has merged it.`,
  );
  return { ...standing, sentence: [...new Set([standing.sentence, ...verdicts])].join(' ') };
}

const unsigned = (refit: string): Review => ({
  refit,
  standing: {
    standing: 'unsigned',
    sentence: NOT_SIGNED,
    conflicts: [],
    revision: null,
    revision_sha256: null,
  },
  comments: [],
  loose_remarks: [],
  signatures: [],
});

const stamped = <New extends { readonly author?: string | null }>(entry: New) => ({
  ...entry,
  author: entry.author ?? '',
  written_at: new Date().toISOString(),
});

const asComment = (entry: FiledComment): Comment => ({
  ...entry,
  on: { part: null, plate: null, path: null, point_m: null, ...entry.on },
  gate: entry.gate ?? null,
  revision_sha256: entry.revision_sha256 ?? null,
  through: THROUGH,
  arrived_at: null,
  state: 'open',
  is_adrift: false,
  thread: [],
});

const STATE_AFTER = { closing: 'closed', reopening: 'open' } as const;

function withRemarks(comment: Comment, remarks: readonly FiledRemark[]): Comment {
  const own = remarks.filter((one) => one.comment === comment.id);
  const thread: readonly Remark[] = own.map((one) => ({
    ...one,
    evidence: [],
    through: THROUGH,
    arrived_at: null,
  }));
  const turn = own
    .map((one) => one.kind)
    .filter((kind) => kind !== 'reply')
    .at(-1);
  const state = turn === undefined ? comment.state : STATE_AFTER[turn];
  return { ...comment, state, thread: [...comment.thread, ...thread] };
}

/** In force as far as the page can tell: whether another replaces it, the server says. */
const asSignature = (entry: FiledSignature, revision: number | null): Signature => ({
  ...entry,
  part: entry.part ?? null,
  conditions: entry.conditions ?? [],
  revision,
  through: THROUGH,
  arrived_at: null,
  arrival: 0,
  is_superseded: false,
  is_stale: false,
  changed: [],
  why_stale: '',
});
