/** A part that is not added yet: its dimensions as typed, and whether they build. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { PartProposal, PartTrial, Problem } from '../../contract.ts';
import { Refusal } from '../../session/api.ts';
import { type PartPlace, proposalOf, tryPart } from '../../session/proposals-api.ts';
import { whyNot } from '../../session/review-store.ts';
import { at, type Mapping, withValue } from '../boat/document.ts';
import type { FormSource } from '../fields/form-source.tsx';

const PAUSE_MS = 250;

/** What a kind proposes; why it cannot be asked, and neither while it is on its way. */
export function useProposal({ refit, option, change }: PartPlace, kind: string) {
  const [found, setFound] = useState<PartProposal>();
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    const leaving = new AbortController();
    setFound(undefined);
    setTrouble('');
    proposalOf({ refit, option, change }, kind, leaving.signal).then(setFound, (error) => {
      if (!leaving.signal.aborted) setTrouble(whyNot(error));
    });
    return () => leaving.abort();
  }, [refit, option, change, kind]);
  return { found: found?.kind === kind ? found : undefined, trouble };
}

/** What came of building it. */
export interface TrialOutcome {
  readonly built?: PartTrial;
  readonly problem?: Problem;
  readonly trouble?: string;
}

/** Builds the part a moment after each change of it; undefined until it answers. */
export function useTrial(
  { refit, option, change }: PartPlace,
  { name, replaces }: PartProposal,
  dimensions: Mapping | undefined,
): TrialOutcome | undefined {
  const [outcome, setOutcome] = useState<TrialOutcome>();
  useEffect(() => {
    if (dimensions === undefined) return undefined;
    const leaving = new AbortController();
    const part = { change, name, dimensions, replaces };
    const timer = setTimeout(() => {
      tryPart({ refit, option, change }, part, leaving.signal).then(
        (built) => setOutcome({ built }),
        (error) => {
          if (!leaving.signal.aborted) setOutcome(outcomeOf(error));
        },
      );
    }, PAUSE_MS);
    return () => {
      clearTimeout(timer);
      leaving.abort();
      setOutcome(undefined);
    };
  }, [refit, option, change, name, replaces, dimensions]);
  return outcome;
}

const outcomeOf = (error: unknown): TrialOutcome =>
  error instanceof Refusal ? { problem: error.problem } : { trouble: whyNot(error) };

type SetDimensions = (change: (before: Mapping | undefined) => Mapping | undefined) => void;

interface PartDraft {
  /** Path that the part would have. */
  readonly root: string;
  readonly proposed: Mapping;
  readonly dimensions: Mapping | undefined;
  readonly problem: Problem | undefined;
  readonly setDimensions: SetDimensions;
}

/** The form's values, and the path of the field at which a refusal is shown. */
interface PartSource extends FormSource {
  readonly blamed: string;
}

/** The form's values: those typed, the proposed ones to go back to, and what was refused. */
export function usePartSource(draft: PartDraft): PartSource {
  const { root, proposed, dimensions, problem, setDimensions } = draft;
  const [edited, setEdited] = useState('');
  const writing = useMemo(() => {
    const put = (path: string, value: unknown) => {
      const keys = keysBelow(root, path);
      if (keys.length > 0) setDimensions((before) => withValue(before ?? {}, keys, value));
    };
    const set = (path: string, value: unknown) => {
      setEdited(path);
      put(path, value);
    };
    const send = (steps: Parameters<FormSource['writing']['send']>[0]) => {
      setEdited('');
      for (const step of steps) put(step.path, step.op === 'set' ? step.value : undefined);
    };
    const forget = (path: string) => put(path, at(proposed, keysBelow(root, path).join('.')));
    return { set, send, forget };
  }, [root, proposed, setDimensions]);
  // what was just typed is what the reader looks at
  const blamed = edited || (problem?.faults[0]?.place ?? '');
  const read = (path: string) => {
    const below = keysBelow(root, path).join('.');
    const isHere = problem !== undefined && path === blamed;
    return {
      value: at(dimensions, below),
      before: at(proposed, below),
      refused: isHere ? problem.faults.map((fault) => fault.sentence) : NOTHING,
      offers: isHere ? problem.offers : [],
      findings: [],
    };
  };
  return { read, writing, blamed };
}

const NOTHING: readonly string[] = [];

const keysBelow = (root: string, path: string): readonly string[] =>
  path.startsWith(`${root}.`) ? path.slice(root.length + 1).split('.') : [];
