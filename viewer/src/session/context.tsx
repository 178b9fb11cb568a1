/** What components may read and do, by concern: each takes the hooks of what it uses. */
import { type ComponentChildren, type Context, createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type {
  Caution,
  DocumentGrammar,
  Effect,
  PartKind,
  PinInput,
  RefitCard,
  ReviewStatus,
  Visitor,
  Working,
} from '../contract.ts';
import type { Mapping } from '../shared/boat/document.ts';
import type { Mode, Scales } from '../shared/colour/paint.ts';
import type { NumberStyle } from '../shared/words/writing.ts';
import type { Meshes } from './mesh-cache.ts';
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
  /** What a document may say. */
  readonly grammar: DocumentGrammar;
  readonly cautions: readonly Caution[];
  /** Who looks at her. */
  readonly visitor: Visitor;
  /** The review in a file that needs no server; undefined where a server answers. */
  readonly offlineReview: OfflineReview | undefined;
  /** Whether she is looked at in such a file. */
  readonly inFile: boolean;
}

/** The boat as last answered; changes with each answer, not each input. */
export interface BoatAnswer {
  readonly working: Working;
  /** Effects of single items, the last known while newer ones are on their way. */
  readonly effects: ReadonlyMap<string, Effect>;
  /** When the reader did what led to `working` [ms since the page began]. */
  readonly inputTime: number | undefined;
  /** The document as the chosen option sees it. */
  readonly document: Mapping;
  /** The document when the page was opened, or the option first looked at: where a reset goes to. */
  readonly original: Mapping;
  readonly condition: string;
  readonly scales: Scales;
}

/** Changing the boat. */
export interface Editing {
  readonly session: Session;
  /** Whether the boat is only looked at. */
  readonly readOnly: boolean;
  /** Why access was withdrawn, or empty. */
  readonly closedWhy: string;
}

/** The review of the boat. */
export interface Reviewing {
  /** Where it is read and written, and all of it as last answered. */
  readonly reviewStore: ReviewStore;
  readonly reviewState: ReviewState;
  /** Whether what is shown is signed; undefined until it is known. */
  readonly standing: ReviewStatus | undefined;
  /** What can be signed: a revision, or what a file holds; undefined for the working copy. */
  readonly signable: Signable | undefined;
}

/** Writing a comment. */
export interface Commenting {
  /** What a comment is being written on. */
  readonly commenting: PinInput | undefined;
  readonly commentOn: (on: PinInput | undefined) => void;
}

/** Where the reader is, and going elsewhere. */
export interface Routing {
  readonly route: Route;
  readonly go: (to: Partial<Route>) => void;
}

/** How the boat is drawn. */
export interface Viewing {
  readonly mode: Mode;
  readonly setMode: (mode: Mode) => void;
  readonly meshes: Meshes;
}

export interface Theme {
  readonly dark: boolean;
  readonly toggleTheme: () => void;
}

/** How numbers are written, and choosing it. */
export interface WritingChoice {
  readonly writing: NumberStyle;
  readonly write: (chosen: Partial<NumberStyle>) => void;
}

/** Deleting a boat, and undoing it. */
export interface Fleet {
  readonly remove: (card: RefitCard) => Promise<void>;
  readonly bringBack: (card: RefitCard) => Promise<void>;
}

/** All there is below a boat that is loaded. */
export interface All {
  readonly known: Known;
  readonly boat: BoatAnswer;
  readonly snapshot: Snapshot;
  readonly editing: Editing;
  readonly reviewing: Reviewing;
  readonly commenting: Commenting;
  readonly routing: Routing;
  readonly viewing: Viewing;
  readonly theme: Theme;
  readonly written: WritingChoice;
}

const made = <T,>(): Context<T | undefined> => createContext<T | undefined>(undefined);

const KnownContext = made<Known>();
const BoatContext = made<BoatAnswer>();
const SnapshotContext = made<Snapshot>();
const EditingContext = made<Editing>();
const ReviewContext = made<Reviewing>();
const CommentingContext = made<Commenting>();
const RouteContext = made<Routing>();
const ViewContext = made<Viewing>();
const ThemeContext = made<Theme>();
const WrittenContext = made<WritingChoice>();
export const FleetContext = made<Fleet>();

export const useKnown = (): Known => present(useContext(KnownContext));
export const useBoat = (): BoatAnswer => present(useContext(BoatContext));
/** What is being set, sent and refused; changes with every input. */
export const useSnapshot = (): Snapshot => present(useContext(SnapshotContext));
export const useEditing = (): Editing => present(useContext(EditingContext));
export const useReview = (): Reviewing => present(useContext(ReviewContext));
export const useCommenting = (): Commenting => present(useContext(CommentingContext));
export const useRoute = (): Routing => present(useContext(RouteContext));
export const useViewing = (): Viewing => present(useContext(ViewContext));
export const useTheme = (): Theme => present(useContext(ThemeContext));
export const useWritten = (): WritingChoice => present(useContext(WrittenContext));
/** Deleting a boat, and undoing it; whether there is a boat or not. */
export const useFleet = (): Fleet => present(useContext(FleetContext));

function present<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('There is no boat on this page.');
  return value;
}

/** Everything, for a tree of its own. */
export const useAll = (): All => ({
  known: useKnown(),
  boat: useBoat(),
  snapshot: useSnapshot(),
  editing: useEditing(),
  reviewing: useReview(),
  commenting: useCommenting(),
  routing: useRoute(),
  viewing: useViewing(),
  theme: useTheme(),
  written: useWritten(),
});

/** Hands everything down. */
export const Provide = ({ all, children }: { all: All; children: ComponentChildren }) => (
  <KnownContext.Provider value={all.known}>
    <ThemeContext.Provider value={all.theme}>
      <WrittenContext.Provider value={all.written}>
        <ViewContext.Provider value={all.viewing}>
          <RouteContext.Provider value={all.routing}>
            <CommentingContext.Provider value={all.commenting}>
              <ReviewContext.Provider value={all.reviewing}>
                <EditingContext.Provider value={all.editing}>
                  <BoatContext.Provider value={all.boat}>
                    <SnapshotContext.Provider value={all.snapshot}>
                      {children}
                    </SnapshotContext.Provider>
                  </BoatContext.Provider>
                </EditingContext.Provider>
              </ReviewContext.Provider>
            </CommentingContext.Provider>
          </RouteContext.Provider>
        </ViewContext.Provider>
      </WrittenContext.Provider>
    </ThemeContext.Provider>
  </KnownContext.Provider>
);
