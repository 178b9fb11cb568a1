/** What every component may read and do. */
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type {
  Caution,
  Effect,
  PartKind,
  PinInput,
  RefitCard,
  Visitor,
  WholeStanding,
  Working,
} from '../contract.ts';
import type { Meshes } from '../scene/mesh-cache.ts';
import type { Mapping } from '../shared/boat/document.ts';
import type { Mode, Scales } from '../shared/colour/paint.ts';
import type { OfflineReview } from './offline/review.ts';
import type { Signable } from './review.ts';
import type { ReviewState, ReviewStore } from './review-store.ts';
import type { Route } from './route.ts';
import type { Session } from './working-copy/session.ts';
import type { Snapshot } from './working-copy/snapshot.ts';

/** What the server knows besides the boat. */
export interface Known {
  readonly refits: readonly RefitCard[];
  readonly kinds: readonly PartKind[];
  readonly cautions: readonly Caution[];
  /** Who looks at her. */
  readonly visitor: Visitor;
  /** What is said in a file that needs no server; undefined where a server answers. */
  readonly filed: OfflineReview | undefined;
  /** Whether she is looked at in such a file. */
  readonly inFile: boolean;
}

/** The boat as last answered, and how she is looked at. */
export interface Shown extends Known {
  readonly session: Session;
  /** Where what is said of her is read and written, and all of it as last answered. */
  readonly book: ReviewStore;
  readonly said: ReviewState;
  /** Why the reader is let in no more, or empty. */
  readonly shut: string;
  /** Whether what is shown is signed; undefined until it is known. */
  readonly standing: WholeStanding | undefined;
  /** What can be signed: a revision, or what a file holds; undefined for the working copy. */
  readonly looked: Signable | undefined;
  /** What a comment is being written on. */
  readonly commenting: PinInput | undefined;
  readonly comment: (on: PinInput | undefined) => void;
  /** Whether the boat is only looked at. */
  readonly readOnly: boolean;
  readonly meshes: Meshes;
  readonly working: Working;
  /** Effects of single items, the last known while newer ones are on their way. */
  readonly effects: ReadonlyMap<string, Effect>;
  /** When the reader did what led to `working` [ms since the page began]. */
  readonly since: number | undefined;
  /** The document as the chosen option sees it. */
  readonly document: Mapping;
  /** The document when the page was opened, or the option first looked at: where a reset goes to. */
  readonly original: Mapping;
  readonly condition: string;
  readonly route: Route;
  readonly go: (to: Partial<Route>) => void;
  readonly mode: Mode;
  readonly setMode: (mode: Mode) => void;
  readonly scales: Scales;
  /** Whether the paper is dark at present. */
  readonly dark: boolean;
  readonly turnPaper: () => void;
}

/** Deleting a boat, and undoing it. */
export interface Fleet {
  readonly remove: (card: RefitCard) => Promise<void>;
  readonly bringBack: (card: RefitCard) => Promise<void>;
}

export const FleetContext = createContext<Fleet | undefined>(undefined);
export const AppContext = createContext<Shown | undefined>(undefined);
export const SnapshotContext = createContext<Snapshot | undefined>(undefined);

/** What is shown; only below a boat that is loaded. Changes with each answer, not each input. */
export const useApp = (): Shown => present(useContext(AppContext));

/** Deleting a boat, and undoing it; whether there is a boat or not. */
export const useFleet = (): Fleet => present(useContext(FleetContext));

/** What is being set, sent and refused; changes with every input. */
export const useSnapshot = (): Snapshot => present(useContext(SnapshotContext));

function present<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('There is no boat on this page.');
  return value;
}
