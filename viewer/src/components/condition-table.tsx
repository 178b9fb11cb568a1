/** All loading conditions, the old boat beside the new. */
import { useApp } from '../app-context.ts';
import type { ConditionResult } from '../contract.ts';
import { angleWords, vanishingWords } from '../criteria.ts';
import { bothBoats } from '../figures.ts';
import { kilograms, number } from '../numbers.ts';
import { title } from '../words.ts';

const COLUMNS: readonly (readonly [string, (boat: ConditionResult) => string])[] = [
  ['displacement', (b) => kilograms(b.displacement_kg, b.plus_minus.displacement_kg)],
  ['GM', (b) => `${number(b.gm_m, 0.01)} m`],
  ['greatest lever', (b) => (b.greatest_gz_m === null ? '—' : greatest(b))],
  ['vanishes', (b) => vanishingWords(b.vanishing_angle_deg)],
  ['range to downflooding', (b) => angleWords(b.range_deg)],
  ['house not counted', (b) => vanishingWords(b.vanishing_angle_without_house_deg)],
  ['downflooding', (b) => angleWords(b.downflooding_angle_deg)],
  ['all left open', (b) => angleWords(b.downflooding_angle_all_open_deg)],
];

const greatest = (b: ConditionResult) =>
  `${number(b.greatest_gz_m ?? 0, 0.001)} m at ${number(b.greatest_gz_at_deg ?? 0, 1)}°`;

export function ConditionTable({ rows }: { rows: readonly ConditionResult[] }) {
  const ids = [...new Set(rows.map((row) => row.id))];
  return (
    <div class="scrolls" tabIndex={0} role="region" aria-label="Loading conditions table">
      <table class="conditions-table">
        <thead>
          <tr>
            <th scope="col">condition</th>
            <th scope="col">boat</th>
            {COLUMNS.map(([name]) => (
              <th scope="col" class="n" key={name}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        {ids.map((id) => (
          <Condition key={id} id={id} rows={rows} />
        ))}
      </table>
    </div>
  );
}

function Condition({ id, rows }: { id: string; rows: readonly ConditionResult[] }) {
  const { condition, go } = useApp();
  const { before, after } = bothBoats(rows, id);
  const boats = [after, before].flatMap((boat) => boat ?? []);
  return (
    <tbody class={id === condition ? 'chosen' : ''}>
      {boats.map((boat, i) => (
        <tr key={boat.stage} class={boat.stage}>
          {i === 0 && (
            <th scope="rowgroup" rowSpan={boats.length}>
              <button
                type="button"
                class="quiet"
                aria-pressed={id === condition}
                onClick={() => go({ condition: id })}
              >
                {title(id)}
              </button>
            </th>
          )}
          <th scope="row">{boat.stage === 'refit' ? 'refit' : 'as found'}</th>
          {COLUMNS.map(([name, words]) => (
            <td class="n" key={name}>
              {boat.righting_levers || name === 'displacement' || name === 'GM'
                ? words(boat)
                : '…'}
            </td>
          ))}
        </tr>
      ))}
    </tbody>
  );
}
