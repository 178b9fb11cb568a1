/** One entry of the Guide, with its drawing, what is searched for marked in it. */
import { useBoat } from '../session/context.tsx';
import { Picture } from '../shared/input/pictures.tsx';
import type { GuideEntry, SketchName } from './entry.ts';
import type { GuideFacts } from './facts.ts';
import { markedPieces } from './search.ts';
import { CurveSketch } from './sketches/curve.tsx';
import { SectionSketch } from './sketches/section.tsx';
import { SideSketch } from './sketches/side.tsx';

interface EntryTextProps {
  readonly entry: GuideEntry;
  readonly query: string;
  readonly facts: GuideFacts;
}

export function EntryText({ entry, query, facts }: EntryTextProps) {
  const marked = (text: string) => <Marked text={text} query={query} />;
  const { id, title, meaning, own = [], steps = [], source } = entry;
  return (
    <article id={`guide-${id}`} tabIndex={-1} aria-label={title}>
      <h3>{marked(title)}</h3>
      <div class="entry-words">
        {meaning.map((text) => (
          <p key={text}>{marked(text)}</p>
        ))}
        {steps.length > 0 && (
          <ol>
            {steps.map((text) => (
              <li key={text}>{marked(text)}</li>
            ))}
          </ol>
        )}
        {own.length > 0 && <p class="own">{marked(own.join(' '))}</p>}
        {source && <p class="about">{marked(source)}</p>}
      </div>
      {entry.picture && <Picture name={entry.picture} />}
      {entry.sketch && <Sketch name={entry.sketch} facts={facts} />}
    </article>
  );
}

const OF_SECTION: readonly SketchName[] = ['metacentre', 'lever', 'camber', 'sides'];

function Sketch({ name, facts }: { name: SketchName; facts: GuideFacts }) {
  const { profile } = useBoat().working;
  if (name === 'curve') return <CurveSketch boat={facts.now} />;
  const Drawing = OF_SECTION.includes(name) ? SectionSketch : SideSketch;
  return <Drawing profile={profile} facts={facts} name={name} />;
}

function Marked({ text, query }: { text: string; query: string }) {
  return (
    <>
      {markedPieces(text, query).map((piece, i) =>
        piece.found ? <mark key={i}>{piece.text}</mark> : piece.text,
      )}
    </>
  );
}
