/** Metric or feet and inches, point or comma: the reader's choice, kept in the browser. */
import { useMemo, useState } from 'preact/hooks';
import type { WritingChoice } from '../session/context.tsx';
import { type NumberStyle, writeIn, writingFrom, writingKept } from '../shared/words/writing.ts';

const KEPT = 'hullchange.writing';

function chosen(): NumberStyle {
  const writing = writingFrom(localStorage.getItem(KEPT));
  writeIn(writing);
  return writing;
}

/** How numbers are written, and how to take another way. */
export function useWritingChoice(): WritingChoice {
  const [writing, setWriting] = useState(chosen);
  return useMemo(() => {
    const write = (other: Partial<NumberStyle>) => {
      const next = { ...writing, ...other };
      localStorage.setItem(KEPT, writingKept(next));
      writeIn(next);
      setWriting(next);
    };
    return { writing, write };
  }, [writing]);
}
