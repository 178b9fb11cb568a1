/** Plates and bars of a part, each figure of them opening. */
import { useState } from 'preact/hooks';
import type { PartResult, PlateResult } from '../../contract.ts';
import { CommentOn } from '../comments/composer.tsx';
import { ExplainButton } from '../explain/explain-button.tsx';
import { ScrollBox } from '../feedback/scroll-box.tsx';
import { amount, quantity, thickness } from '../words/numbers.ts';
import { count, plainWords } from '../words/plain-words.ts';
import { THICKNESS_UNIT, unitSign } from '../words/units.ts';

const COLUMNS = [
  ['thickness', 'thickness_mm', 0.5],
  ['m²', 'area_m2', 0.01],
  ['kg', 'mass_kg', 0.1],
] as const;

/** The list is made once it is opened: it is most of the page, and changes with every drag. */
export function Plates({ part }: { part: PartResult }) {
  const [open, setOpen] = useState(false);
  const plates = part.plates.filter((p) => p.kind === 'plate').length;
  const bars = part.plates.length - plates;
  return (
    <details class="plates" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>
        {count(plates, 'plate')}
        {bars > 0 && `, ${count(bars, 'bar')}`}, {quantity(part.plate_area_m2, 'm²', 0.1)}
      </summary>
      {open && <List part={part} />}
    </details>
  );
}

function List({ part }: { part: PartResult }) {
  return (
    <ScrollBox label="Plates and bars">
      <table>
        <thead>
          <tr>
            <th scope="col">piece</th>
            {COLUMNS.map(([name]) => (
              <th key={name} scope="col">
                {name === 'thickness' ? THICKNESS_UNIT : unitSign(name)}
              </th>
            ))}
            <th scope="col">
              <span class="unseen">comment</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {part.plates.map((plate) => (
            <Row key={plate.id} plate={plate} part={part.id} />
          ))}
        </tbody>
      </table>
    </ScrollBox>
  );
}

function Row({ plate, part }: { plate: PlateResult; part: string }) {
  const path = `parts.${part}.plates.${plate.id}`;
  return (
    <tr>
      <th scope="row">{plainWords(plate.id)}</th>
      {COLUMNS.map(([name, figure, step]) => (
        <td key={name}>
          <ExplainButton explained={{ title: plainWords(plate.id), path: `${path}.${figure}` }}>
            {name === 'thickness'
              ? thickness(plate[figure], step)
              : amount(plate[figure], name, step)}
          </ExplainButton>
        </td>
      ))}
      <td>
        <CommentOn on={{ part, plate: plate.id }} />
      </td>
    </tr>
  );
}
