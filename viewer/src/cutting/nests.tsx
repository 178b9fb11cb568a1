/** The sheets with what lies on them; picking a piece lights it. */
import type { CutAnswer, CutNest, CutPiece } from '../contract.ts';
import { number, quantity } from '../shared/words/numbers.ts';
import { sizeWords } from '../shared/words/plain-words.ts';
import { PieceDrawing } from './plate.tsx';

interface Props {
  readonly answer: CutAnswer;
  readonly picked: string | undefined;
  readonly pick: (id: string) => void;
}

export function Nests({ answer, picked, pick }: Props) {
  const pieces = new Map(answer.pieces.map((piece) => [piece.id, piece]));
  return (
    <section class="nests" aria-label="Sheets">
      <h3>Sheets</h3>
      <p class="about">
        Pieces lie {quantity(answer.gap_mm, 'mm', 1)} apart and{' '}
        {quantity(answer.margin_mm, 'mm', 1)} from the edge. Net contours: kerf, lead-ins and
        piercing are the cutter's.
      </p>
      {answer.nests.length === 0 && (
        <p class="about">
          Nothing is nested: list your sheets under Stock and cutting on the Boat page.
        </p>
      )}
      <div class="nest-sheets">
        {answer.nests.map((nest) => (
          <NestSheet key={nest.id} nest={nest} pieces={pieces} picked={picked} pick={pick} />
        ))}
      </div>
    </section>
  );
}

interface SheetProps extends Omit<Props, 'answer'> {
  readonly nest: CutNest;
  readonly pieces: ReadonlyMap<string, CutPiece>;
}

/** Height of a mark's letters that has room on its piece [mm]. */
const markSize = ({ id, length_mm, breadth_mm }: CutPiece): number =>
  Math.max(14, Math.min(60, breadth_mm / 4, (0.8 * length_mm) / (0.65 * id.length)));

function NestSheet({ nest, pieces, picked, pick }: SheetProps) {
  const edge = 12;
  return (
    <figure class="nest">
      <figcaption>
        <b>{nest.id}</b> {sizeWords(nest.sheet)}
        {nest.is_leftover && ', already in the yard'}: {number(nest.used_percent, 1)} % of it used;{' '}
        {quantity(nest.used_length_mm, 'mm', 1)} of its length
        {nest.left_length_mm > 0 &&
          `, a strip of ${quantity(nest.left_length_mm, 'mm', 1)} is left over`}
        .
      </figcaption>
      <svg
        viewBox={`${-edge} ${-nest.breadth_mm - edge} ${nest.length_mm + 2 * edge} ${nest.breadth_mm + 2 * edge}`}
        aria-label={`Sheet ${nest.id}`}
        role="group"
      >
        <path class="sheet-edge" d={nest.outline} />
        {nest.pieces.map((place) => {
          const piece = pieces.get(place.id);
          if (!piece) return null;
          const [x, y] = place.at_mm;
          const [cx, cy] = piece.lift_at_mm;
          const size = markSize(piece);
          return (
            <g
              key={place.id}
              role="button"
              tabindex={0}
              aria-label={place.id}
              aria-pressed={place.id === picked}
              transform={`translate(${x} ${-y}) rotate(${-place.turn_deg})`}
              onClick={() => pick(place.id)}
              onKeyDown={(e) => {
                if (e.key !== 'Enter' && e.key !== ' ') return;
                e.preventDefault();
                pick(place.id);
              }}
            >
              <PieceDrawing piece={piece} lit={place.id === picked} />
              <text class="nest-mark" x={cx} y={-cy} font-size={size} text-anchor="middle">
                {place.id}
              </text>
            </g>
          );
        })}
      </svg>
    </figure>
  );
}
