/** What every component may read and do. */
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Caution, PartKind, RefitCard, Working } from './contract.ts';
import type { Mapping } from './document.ts';
import type { Mode, Scales } from './paint.ts';
import type { Route } from './route.ts';
import type { Session, Snapshot } from './session.ts';

export interface Shown {
  readonly session: Session;
  readonly snapshot: Snapshot;
  readonly working: Working;
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
  readonly kinds: readonly PartKind[];
  readonly cautions: readonly Caution[];
  readonly refits: readonly RefitCard[];
}

export const AppContext = createContext<Shown | undefined>(undefined);

/** What is shown; only below a boat that is loaded. */
export function useApp(): Shown {
  const shown = useContext(AppContext);
  if (!shown) throw new Error('There is no boat on this page.');
  return shown;
}
