/** What every component may read and do. */
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Caution, Effect, PartKind, RefitCard, Working } from './contract.ts';
import type { Mapping } from './document.ts';
import type { Meshes } from './meshes.ts';
import type { Mode, Scales } from './paint.ts';
import type { Route } from './route.ts';
import type { Session, Snapshot } from './session.ts';

/** What the server knows besides the boat. */
export interface Known {
  readonly refits: readonly RefitCard[];
  readonly kinds: readonly PartKind[];
  readonly cautions: readonly Caution[];
  /** Whether the boat is only looked at. */
  readonly readOnly: boolean;
}

/** The boat as last answered, and how she is looked at. */
export interface Shown extends Known {
  readonly session: Session;
  readonly meshes: Meshes;
  readonly working: Working;
  /** Effects of single items, the last known while newer ones are on their way. */
  readonly effects: ReadonlyMap<string, Effect>;
  /** When the reader did what led to `working` [ms since the page began]. */
  readonly since: number | undefined;
  /** The document as the chosen option sees it. */
  readonly document: Mapping;
  /** The document when the page was opened: where a reset goes back to. */
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

export const AppContext = createContext<Shown | undefined>(undefined);
export const SnapshotContext = createContext<Snapshot | undefined>(undefined);

/** What is shown; only below a boat that is loaded. Changes with each answer, not each input. */
export const useApp = (): Shown => present(useContext(AppContext));

/** What is being set, sent and refused; changes with every input. */
export const useSnapshot = (): Snapshot => present(useContext(SnapshotContext));

function present<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('There is no boat on this page.');
  return value;
}
