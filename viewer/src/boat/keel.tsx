/** Keel, skeg and rudder: each from the side with points to drag, and its section along the chord. */

import { useBoat } from '../session/context.tsx';
import { at, numberOr } from '../shared/boat/document.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import { FieldAt, useDocumentField } from '../shared/fields/form.tsx';
import { quantity } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import { AppendageKinds } from './appendage-kinds.tsx';
import { flatPoints, isTable, outlinesBeside, SideDrawing } from './side-drawing.tsx';

const PATH = 'hull.appendages';

export function KeelSection() {
  const field = useDocumentField(PATH);
  return field ? (
    <FieldAt
      field={field}
      path={PATH}
      head={(name) => <Drawings name={name} />}
      begin={(done) => <AppendageKinds done={done} />}
    />
  ) : null;
}

function Drawings({ name }: { name: string }) {
  const { document } = useBoat();
  const path = `${PATH}.${name}`;
  const outline = flatPoints(at(document, `${path}.outline_m`));
  return (
    <>
      <SideDrawing
        label={plainWords(name)}
        others={outlinesBeside(document, name)}
        path={`${path}.outline_m`}
        fewest={2}
      />
      <ChordSection thickness={at(document, `${path}.half_thickness_m`)} chord={chordOf(outline)} />
    </>
  );
}

/** The longest level line across an outline [m]. */
const chordOf = (points: readonly FlatPoint[]) => {
  const xs = points.map(([x]) => x);
  return Math.max(...xs) - Math.min(...xs);
};

const WIDTH = 600;

/** A level cut through it, both halves, to one scale. */
function ChordSection({ thickness, chord }: { thickness: unknown; chord: number }) {
  const even = numberOr(thickness, 0);
  const table: readonly FlatPoint[] = isTable(thickness)
    ? thickness
    : [
        [0, even],
        [1, even],
      ];
  const most = Math.max(...table.map(([, half]) => half), 0.01);
  const per = WIDTH / Math.max(chord, 0.1);
  const middle = Math.max(most * per, 4) + 14;
  const point = ([share, half]: FlatPoint, side: number) =>
    `${(share * WIDTH).toFixed(1)},${(middle - side * half * per).toFixed(1)}`;
  const path = [
    ...table.map((p) => point(p, 1)),
    ...table.toReversed().map((p) => point(p, -1)),
  ].join('L');
  return (
    <div class="side-drawing">
      <svg
        viewBox={`0 0 ${WIDTH} ${(2 * middle).toFixed(0)}`}
        role="img"
        aria-label={`Level section, ${quantity(2000 * most, 'mm', 1)} thick`}
      >
        <path class="own" d={`M${path}Z`} />
        <path class="line" d={`M0,${middle}H${WIDTH}`} />
        <text x="2" y="11">
          forward
        </text>
        <text x={WIDTH - 2} y="11" text-anchor="end">
          level section, {quantity(2000 * most, 'mm', 1)} thick
        </text>
      </svg>
    </div>
  );
}
