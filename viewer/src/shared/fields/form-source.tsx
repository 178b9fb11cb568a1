/** Where the values of a form stand: in the working copy or in a new part; offers for them. */
import { type ComponentChildren, createContext } from 'preact';
import { useContext, useMemo } from 'preact/hooks';
import type { FindingResult, ProblemOffer } from '../../contract.ts';
import { useBoat, useEditing, useSnapshot } from '../../session/context.tsx';
import type { Session } from '../../session/working-copy/session.ts';
import { offersAt, reasonsAt } from '../../session/working-copy/snapshot.ts';
import { findingsAt } from '../answer/findings.ts';
import { at } from '../boat/document.ts';
import { WhenEditable } from './editing.tsx';
import { fieldOf, offeredSteps, offeredWords, type WholeForm } from './field-values.ts';

/** What stands in one field, and what is wrong or odd about it. */
interface FieldState {
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

const FormContext = createContext<WholeForm | undefined>(undefined);

/** The whole form that fields belong to: the one around them, where it leads to them. */
export function FormRoot({ path, fields, children }: WholeForm & { children: ComponentChildren }) {
  const above = useContext(FormContext);
  const own = useMemo(() => ({ path, fields }), [path, fields]);
  const isBelow = above !== undefined && fieldOf(above, path) !== undefined;
  return <FormContext.Provider value={isBelow ? above : own}>{children}</FormContext.Provider>;
}

interface OffersProps {
  readonly offers: readonly ProblemOffer[];
  /** Of what was refused. */
  readonly path: string;
  readonly value: unknown;
}

/** Dimensions that build where what was typed does not: each is one press away. */
export function Offers({ offers, path, value }: OffersProps) {
  const form = useContext(FormContext);
  const writing = useWriting();
  if (offers.length === 0 || form === undefined) return null;
  return (
    <WhenEditable>
      <p class="offers">
        {offers.map((offer) => {
          const words = offeredWords(form, offer, path, value);
          return (
            <button
              key={words}
              type="button"
              class="quiet"
              onClick={() => writing.send(offeredSteps(offer, path, value), words)}
            >
              use {words}
            </button>
          );
        })}
      </p>
    </WhenEditable>
  );
}
