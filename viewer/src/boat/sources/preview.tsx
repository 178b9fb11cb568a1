/** Lines that a source gave, before they are taken over: drawn, with what they are worth. */
import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useEditing } from '../../session/context.tsx';
import { givenLines } from '../../session/hull-sources-api.ts';
import type { FlatPoint } from '../../shared/boat/points.ts';
import { quantity } from '../../shared/words/numbers.ts';
import { count, plainWords } from '../../shared/words/plain-words.ts';
import { reworded } from '../../shared/words/sentences.ts';

interface Props {
  readonly preview: LinesPreview;
  /** Where they come from, to be kept with them. */
  readonly note?: string;
}

export function Preview({ preview, note = '' }: Props) {
  const { session } = useEditing();
  const [wrong, setWrong] = useState<readonly string[]>([]);
  const [isTaken, setTaken] = useState(false);
  const { lines, faults, missing, not_understood: cells, doubts, notes, size } = preview;
  const points = Object.values(lines).reduce((sum, line) => sum + line.points_m.length, 0);
  const use = async () => {
    const why = await session.takeLines(givenLines(preview, note));
    setWrong(why);
    setTaken(why.length === 0);
  };
  return (
    <section class="preview" aria-label="What was read">
      <p>
        <b>
          {count(Object.keys(lines).length, 'line')}, {count(points, 'point')}.
        </b>{' '}
        {reworded(preview.worth)}
      </p>
      {size && (
        <p class="about">
          Length {quantity(size.length_m, 'm', 0.01)}, beam {quantity(size.beam_m, 'm', 0.01)},
          waterline {quantity(size.waterline_m, 'm', 0.01)}, volume below it{' '}
          {quantity(size.volume_m3, 'm³', 0.01)}, without keel and rudder.
        </p>
      )}
      <TwoViews preview={preview} />
      <Sentences
        title="Not understood"
        sentences={cells.map((c) => `Row ${c.row}, ${c.column}: “${c.text}”. ${c.sentence}`)}
      />
      <Sentences title="Still missing" sentences={missing.map(reworded)} />
      <Sentences title="Not a hull yet" sentences={faults.map((f) => reworded(f.sentence))} />
      <Sentences title="Check" sentences={doubts.map((f) => reworded(f.sentence))} />
      <Sentences title="Assumed" sentences={notes.map(reworded)} />
      <button type="button" disabled={points === 0} onClick={() => void use()}>
        Use these lines
      </button>
      {isTaken && (
        <span role="status"> These are now the hull's lines; Undo restores the old ones.</span>
      )}
      {wrong.map((sentence) => (
        <p key={sentence} class="refused" role="alert">
          {sentence}
        </p>
      ))}
    </section>
  );
}

function Sentences({ title, sentences }: { title: string; sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <>
      <h4>{title}</h4>
      <ul>
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </>
  );
}

const WIDTH = 600;
const GAP = 14;

/** The lines from the side, and below from above. */
function TwoViews({ preview }: { preview: LinesPreview }) {
  const lines = Object.entries(preview.lines);
  const all = lines.flatMap(([, line]) => line.points_m);
  if (all.length === 0) return null;
  const xs = all.map(([x]) => x);
  const zs = all.map(([, , z]) => z);
  const left = Math.min(...xs);
  const top = Math.max(...zs);
  const per = (WIDTH - 2 * GAP) / Math.max(Math.max(...xs) - left, 0.1);
  const side = (top - Math.min(...zs)) * per;
  const breadth = Math.max(...all.map(([, y]) => y)) * per;
  const path = (points: readonly FlatPoint[]) =>
    `M${points.map(([x, y]) => `${(GAP + (x - left) * per).toFixed(1)},${y.toFixed(1)}`).join('L')}`;
  return (
    <svg
      class="side-lines"
      viewBox={`0 0 ${WIDTH} ${(side + breadth + 3 * GAP).toFixed(0)}`}
      role="img"
      aria-label={`Lines from the side and from above: ${lines.map(([name]) => plainWords(name)).join(', ')}`}
    >
      {lines.map(([name, line]) => (
        <g key={name} class={line.kind}>
          <path d={path(line.points_m.map(([x, , z]) => [x, GAP + (top - z) * per]))} />
          <path d={path(line.points_m.map(([x, y]) => [x, 2 * GAP + side + y * per]))} />
        </g>
      ))}
    </svg>
  );
}
