/** What is known of the working copy at one moment: shown, being sent, refused. */
import type { Effect, ProblemOffer, RecordResult, Working } from '../../contract.ts';
import { isWithin } from '../../shared/answer/findings.ts';
import type { Refusal } from '../api.ts';
import { Store } from '../store.ts';

/** A value set on the page that the boat has not answered yet, or has refused. */
interface Draft {
  readonly value: unknown;
  readonly turn: number;
}

/** Why something was not taken, and what it was. */
export interface Refused {
  readonly label: string;
  readonly reasons: readonly string[];
  /** What would be taken instead, as far as the server knows. */
  readonly offers?: readonly ProblemOffer[];
}

export interface Snapshot {
  readonly working: Working | undefined;
  /** The last answer with every condition in it; behind `working` while something is dragged. */
  readonly full: Working | undefined;
  /** Effects of single items, the last known while newer ones are on their way. */
  readonly effects: ReadonlyMap<string, Effect>;
  readonly record: RecordResult | undefined;
  /** Why the solids were not weighed; empty where they were, or are being. */
  readonly recordTrouble: string;
  readonly drafts: ReadonlyMap<string, Draft>;
  /** Why values were refused, by path: they stay where they were typed, the boat as she was. */
  readonly refused: ReadonlyMap<string, Refused>;
  /** Why the server cannot be asked at present; empty where it answers. */
  readonly away: string;
  /** What was done since it does not answer: kept here, and sent when it does. */
  readonly unsent: readonly string[];
  /** The option that was looked at and is there no more; empty where it is. */
  readonly gone: string;
  /** The latest edit that is known to stand in the boat's file. */
  readonly savedEdit: number;
  /** Something the reader should know, such as that somebody else was first. */
  readonly notice: string;
  /** Why she cannot be answered as she is on the server; empty where she was. */
  readonly stuck: string;
  /** Why there is no boat to show. */
  readonly problem: Refusal | undefined;
  readonly busy: boolean;
  /** When the reader did what led to `working` [ms since the page began]. */
  readonly since: number | undefined;
  /** What was deleted by the last edit of this page; undefined where nothing was. */
  readonly deleted: { readonly label: string; readonly edit: number } | undefined;
  /** What the reader did, for the result that is read aloud. */
  readonly did: string;
}

const EMPTY: Snapshot = {
  working: undefined,
  full: undefined,
  effects: new Map(),
  record: undefined,
  recordTrouble: '',
  drafts: new Map(),
  refused: new Map(),
  away: '',
  unsent: [],
  gone: '',
  savedEdit: 0,
  notice: '',
  stuck: '',
  problem: undefined,
  busy: false,
  since: undefined,
  deleted: undefined,
  did: '',
};

export const NOTHING_DRAFTED = { drafts: new Map(), refused: new Map() } as const;

/** Holds the latest snapshot, and tells everybody who watches of each. */
export class SnapshotStore extends Store<Snapshot> {
  constructor() {
    super(EMPTY);
  }

  get edit(): number {
    return this.state.working?.edit ?? 0;
  }

  /** Adds a draft without notifying the watchers: the change that follows does. */
  draft(path: string, draft: Draft): void {
    const drafts = new Map(this.state.drafts).set(path, draft);
    this.state = { ...this.state, drafts };
  }
}

/** A map without what lies at or below some paths. */
export const withoutPaths = <T>(
  map: ReadonlyMap<string, T>,
  paths: readonly string[],
): Map<string, T> =>
  new Map([...map].filter(([key]) => !paths.some((path) => isWithin(key, path))));

const NONE: readonly string[] = [];

/** Why the value at a path was not taken; the same empty list where it was. */
export const reasonsAt = ({ refused }: Snapshot, path: string): readonly string[] =>
  refused.get(path)?.reasons ?? NONE;

const NO_OFFERS: readonly ProblemOffer[] = [];

export const NOT_SENT =
  'Not sent: the server does not answer. It is kept here, and sent when it does.';

/** Whether what was set at a path is not refused, but waits for the server. */
export const isWaiting = ({ refused }: Pick<Snapshot, 'refused'>, path: string): boolean =>
  refused.get(path)?.reasons.includes(NOT_SENT) ?? false;

/** What would be taken in place of the value at a path. */
export const offersAt = ({ refused }: Snapshot, path: string): readonly ProblemOffer[] =>
  refused.get(path)?.offers ?? NO_OFFERS;

/** What is known of the file: that it holds this edit, that it will, or that it cannot. */
export function savedWord(
  {
    stuck,
    away,
    unsent,
    savedEdit,
    busy,
  }: Pick<Snapshot, 'stuck' | 'away' | 'unsent' | 'savedEdit' | 'busy'>,
  { edit, trouble }: Pick<Working, 'edit' | 'trouble'>,
): string {
  if (unsent.length > 0 || stuck || trouble) return 'not saved';
  if (savedEdit >= edit && !busy) return 'saved';
  return away ? 'not saved' : 'saving';
}
