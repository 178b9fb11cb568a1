/** Where the values of a form stand: in the working copy, or in a part that is not added yet. */
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { FindingResult, ProblemOffer } from '../../contract.ts';
import { useBoat, useEditing, useSnapshot } from '../../session/context.tsx';
import type { Session } from '../../session/working-copy/session.ts';
import { offersAt, reasonsAt } from '../../session/working-copy/snapshot.ts';
import { findingsAt } from '../answer/findings.ts';
import { at } from '../boat/document.ts';

/** What stands in one field, and what is said of it. */
export interface FieldState {
  readonly value: unknown;
  /** What it was when the page was opened; undefined where nothing was. */
  readonly before: unknown;
  readonly refused: readonly string[];
  readonly offers: readonly ProblemOffer[];
  readonly findings: readonly FindingResult[];
}

/** Setting the fields of a form. */
export type Writing = Pick<Session, 'set' | 'send' | 'forget'>;

export interface FormSource {
  readonly read: (path: string) => FieldState;
  readonly writing: Writing;
}

const SourceContext = createContext<FormSource | undefined>(undefined);

/** The fields inside stand somewhere else than in the working copy. */
export const FormSourceProvider = SourceContext.Provider;

export function useFieldState(path: string): FieldState {
  const { document, original, working } = useBoat();
  const snapshot = useSnapshot();
  const other = useContext(SourceContext);
  if (other) return other.read(path);
  const draft = snapshot.drafts.get(path);
  return {
    value: draft ? draft.value : at(document, path),
    before: at(original, path),
    refused: reasonsAt(snapshot, path),
    offers: offersAt(snapshot, path),
    findings: findingsAt(working.assessment.findings, path),
  };
}

export function useWriting(): Writing {
  const { session } = useEditing();
  return useContext(SourceContext)?.writing ?? session;
}
