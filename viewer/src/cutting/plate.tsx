/** One plate: flat as it is cut, and where it goes in the boat. */
import { useEffect, useLayoutEffect, useMemo } from 'preact/hooks';
import type { CutAnswer, CutPiece } from '../contract.ts';
import type { Spot } from '../scene/aim.ts';
import { distanceTo } from '../scene/nearest.ts';
import { useBoat } from '../session/context.tsx';
import { CanvasKeys } from '../shared/view3d/canvas-keys.tsx';
import { useBoatView } from '../shared/view3d/use-boat-view.ts';
import { amount, kilograms, quantity } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import { materialWords } from '../shared/words/units.ts';
import { drawnIn, plateOf } from './words.ts';

const ROOM = 0.07;

export function PlateFlat({ piece }: { piece: CutPiece }) {
  const { length_mm: length, breadth_mm: breadth } = piece;
  const edge = Math.max(length, breadth) * ROOM;
  return (
    <figure class="plate-flat">
      <svg
        viewBox={`${-edge} ${-breadth - edge / 2} ${length + 1.5 * edge} ${breadth + 1.5 * edge}`}
        role="img"
        aria-label={`${piece.id} flat, ${amount(length, 'mm', 1)} by ${quantity(breadth, 'mm', 1)}`}
      >
        <PieceDrawing piece={piece} lit words />
        <g class="dimension" font-size={edge * 0.42}>
          <path d={`M0 ${edge * 0.35}H${length}M${-edge * 0.35} 0V${-breadth}`} />
          <text x={length / 2} y={edge * 0.85} text-anchor="middle">
            {amount(length, 'mm', 1)}
          </text>
          <text
            transform={`translate(${-edge * 0.5} ${-breadth / 2}) rotate(-90)`}
            text-anchor="middle"
          >
            {amount(breadth, 'mm', 1)}
          </text>
        </g>
        <LiftPoint piece={piece} size={edge * 0.25} />
      </svg>
      <figcaption>
        <b>{piece.id}</b> {plainWords(piece.part)} {plainWords(piece.plate)}:{' '}
        {materialWords(piece.material)}, {quantity(piece.area_m2, 'm²', 0.001)},{' '}
        {kilograms(piece.mass_kg)}, lift by {piece.lift_by} at the cross. Cut{' '}
        {quantity(piece.cut_length_m, 'm', 0.01)}, pierces: {piece.pierces_count}. Seen from the
        side that faces {piece.side}; {piece.count} of this mark
        {piece.bend_radius_mm !== null &&
          `; rolled to R ${quantity(piece.bend_radius_mm, 'mm', 1)}`}
        . {drawnIn(piece)}
      </figcaption>
    </figure>
  );
}

const LiftPoint = ({ piece, size }: { piece: CutPiece; size: number }) => {
  const [x, y] = piece.lift_at_mm;
  return <path class="lift" d={`M${x - size} ${-y}h${2 * size}M${x} ${-y - size}v${2 * size}`} />;
};

/** Contours and marks of a piece in millimetres. */
export function PieceDrawing({
  piece,
  lit = false,
  words = false,
}: {
  piece: CutPiece;
  lit?: boolean;
  words?: boolean;
}) {
  return (
    <>
      <path class={`contour ${lit ? 'lit' : ''}`} d={piece.contours} />
      <path class="mark" d={piece.marks} />
      <path class="bend" d={piece.bends} />
      <path class="check" d={piece.checks} />
      {words &&
        piece.words.map((line) => (
          <text
            key={`${line.text}${line.at_mm}`}
            class="stroked"
            transform={`translate(${line.at_mm}) rotate(${-line.turn_deg})`}
            font-size={line.height_mm * 1.35}
            textLength={line.length_mm}
            lengthAdjust="spacingAndGlyphs"
          >
            {line.text}
          </text>
        ))}
    </>
  );
}

interface InBoatProps {
  readonly answer: CutAnswer;
  readonly piece: CutPiece | undefined;
  readonly pick: (id: string) => void;
}

/** The piece cut from a plate of the scene; of one cut in parts the part that was pressed. */
function pieceAt(answer: CutAnswer, spot: Spot | undefined): CutPiece | undefined {
  if (!spot) return undefined;
  const made = answer.pieces.filter((piece) => plateOf(piece) === spot.plate);
  const far = made.map(({ in_boat_m }) => (in_boat_m ? distanceTo(in_boat_m, spot.point) : 0));
  return made[far.indexOf(Math.min(...far))];
}

/** The plate in the boat; pressing another picks that. */
export function PlateInBoat({ answer, piece, pick }: InBoatProps) {
  const { working } = useBoat();
  const steel = useMemo(
    () => working.scene.filter(({ role }) => role !== 'replaced'),
    [working.scene],
  );
  const { canvas, view, lost } = useBoatView(steel, 'plain', {
    spotted: (spot) => {
      const found = pieceAt(answer, spot);
      if (found) pick(found.id);
    },
  });
  const share = piece?.in_boat_m ?? undefined;
  const plate = piece && plateOf(piece);
  useLayoutEffect(
    () => view.current?.light(plate === undefined ? undefined : { plate, share }),
    [plate, share],
  );
  useEffect(() => {
    view.current?.through(true); // plates inside the hull are seen too
    view.current?.view('starboard quarter');
  }, []);
  return (
    <div class="plate-in-boat three" aria-label="The plate in the boat" role="group">
      {lost ? (
        <p class="lost">This browser cannot show 3D; everything else works.</p>
      ) : (
        <CanvasKeys canvas={canvas} view={view} />
      )}
    </div>
  );
}
