/** Everything that happens on the way round, in a list: each takes her to its heel. */
import { useMemo } from 'preact/hooks';
import type { ConditionResult } from '../../contract.ts';
import { heelWords } from '../../shared/words/numbers.ts';
import { byHeel, flagsOf } from './lever-flags.ts';
import type { Flag, Span } from './plot.ts';

interface Props {
  readonly now: ConditionResult;
  readonly span: Span;
  readonly setHeel: (heel: number) => void;
  /** Told which flag is looked at, so that the plot shows it. */
  readonly ask: (flag: Flag | undefined) => void;
}

export function FlagList({ now, span, setHeel, ask }: Props) {
  const flags = useMemo(() => byHeel(flagsOf(now, span)), [now, span]);
  if (flags.length === 0) return null;
  return (
    <details class="flag-list">
      <summary>What happens as she heels ({flags.length})</summary>
      <ul>
        {flags.map((flag) => (
          <li key={`${flag.kind} ${flag.words} ${flag.heel}`}>
            <button
              type="button"
              class="quiet"
              onClick={() => setHeel(Math.round(flag.heel) + 0)}
              onFocus={() => ask(flag)}
              onBlur={() => ask(undefined)}
              onPointerEnter={() => ask(flag)}
              onPointerLeave={() => ask(undefined)}
            >
              {flag.words}
              {span === 'circle' && ` ${heelWords(flag.heel, 1).replace(/^\S+ /, '')}`}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
