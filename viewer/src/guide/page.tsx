/** The Guide page: what the words mean on this boat, how to measure her, how to read each page. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import { useBoat, useKnown, useRoute } from '../session/context.tsx';
import { hashOf } from '../session/route.ts';
import { contentsOf } from './contents.ts';
import { DESIGN, DesignMeasures } from './design/design-measures.tsx';
import type { GuidePart } from './entry.ts';
import { EntryText } from './entry-text.tsx';
import { factsOf } from './facts.ts';
import { foundWords, matching, searchTerms } from './search.ts';

export function GuidePage() {
  const { route } = useRoute();
  return route.entry === DESIGN ? <DesignMeasures /> : <Guide />;
}

function Guide() {
  const { working, condition } = useBoat();
  const { cautions, inFile } = useKnown();
  const { route } = useRoute();
  const [query, setQuery] = useState('');
  const facts = useMemo(
    () => factsOf(working, condition, route.revision),
    [working, condition, route.revision],
  );
  const parts = useMemo(() => contentsOf(facts, { cautions, inFile }), [facts, cautions, inFile]);
  const found = useMemo(() => matching(parts, query), [parts, query]);
  useEffect(() => {
    if (route.entry) show(route.entry);
  }, [route.entry]);
  return (
    <div class="page guide">
      <h2>Guide</h2>
      <Search query={query} search={setQuery} found={found} />
      <Contents parts={found} />
      {found.map((part) => (
        <section key={part.id} id={`guide-${part.id}`} tabIndex={-1} aria-label={part.title}>
          <h2>{part.title}</h2>
          {part.about && <p class="lead">{part.about}</p>}
          <div class={`entries ${isBrief(part) ? 'brief' : ''}`}>
            {part.entries.map((entry) => (
              <EntryText key={entry.id} entry={entry} query={query} facts={facts} />
            ))}
          </div>
        </section>
      ))}
    </div>
  );
}

/** Whether a part is words alone, set in columns. */
const isBrief = ({ entries }: GuidePart) =>
  entries.every(({ picture, sketch }) => picture === undefined && sketch === undefined);

/** Brings an entry or a part into view and gives it the focus. */
function show(id: string): void {
  const there = document.getElementById(`guide-${id}`);
  there?.scrollIntoView({ block: 'start' });
  there?.focus({ preventScroll: true });
}

interface SearchProps {
  readonly query: string;
  readonly search: (query: string) => void;
  readonly found: readonly GuidePart[];
}

/** Enter goes to the first entry that is found, Escape shows everything again. */
function Search({ query, search, found }: SearchProps) {
  const first = found[0]?.entries[0];
  const go = (event: Event) => {
    event.preventDefault();
    if (first && searchTerms(query).length > 0) show(first.id);
  };
  return (
    <search>
      <form class="guide-search" onSubmit={go}>
        <label>
          <span>Search the guide</span>
          <input
            type="search"
            autocomplete="off"
            value={query}
            onInput={(e) => search(e.currentTarget.value)}
            onKeyDown={(e) => e.key === 'Escape' && search('')}
          />
        </label>
        <button type="button" class="quiet" onClick={() => print()}>
          Print the guide
        </button>
        <p role="status">{foundWords(found, query)}</p>
      </form>
    </search>
  );
}

/** What there is to read, each name leading to its place. */
function Contents({ parts }: { parts: readonly GuidePart[] }) {
  return (
    <nav class="guide-contents" aria-label="Contents of the guide">
      {parts.map((part) => (
        <div key={part.id}>
          <h3>
            <ContentsLink to={part.id} words={part.title} />
          </h3>
          <ul>
            {part.entries.map((entry) => (
              <li key={entry.id}>
                <ContentsLink to={entry.id} words={entry.title} />
              </li>
            ))}
          </ul>
        </div>
      ))}
    </nav>
  );
}

/** A name in the contents: pressed again, it leads there again. */
function ContentsLink({ to, words }: { to: string; words: string }) {
  const { route } = useRoute();
  return (
    <a href={hashOf({ ...route, page: 'guide', entry: to })} onClick={() => show(to)}>
      {words}
    </a>
  );
}
