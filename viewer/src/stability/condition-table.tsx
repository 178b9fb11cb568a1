/** All loading conditions, the old boat beside the new. */

import type { ConditionResult } from '../contract.ts';
import { useBoat, useRoute } from '../session/context.tsx';
import { angleWords, floodingWords, vanishingWords } from '../shared/answer/criteria.ts';
import { bothBoats } from '../shared/answer/figures.ts';
import { byWords, gmWords, withSd } from '../shared/answer/uncertainty.ts';
import { ResultExplainButton } from '../shared/explain/result-explain-button.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { kilograms, quantity } from '../shared/words/numbers.ts';
import { keyWords, title } from '../shared/words/plain-words.ts';

type ConditionColumn = readonly [string, keyof ConditionResult, (boat: ConditionResult) => string];
const COLUMNS: readonly ConditionColumn[] = [
  [
    'displacement',
    'displacement_kg',
    (b) => kilograms(b.displacement_kg, b.plus_minus.displacement_kg),
  ],
  ['GM upright', 'gm_m', gmWords],
  ['maximum GZ', 'greatest_gz_m', (b) => (b.greatest_gz_m === null ? '—' : greatest(b))],
  ['AVS', 'vanishing_angle_deg', vanishes],
  ['range', 'range_deg', (b) => angleWords(b.range_deg)],
  [
    'AVS without deckhouse',
    'vanishing_angle_without_house_deg',
    (b) => vanishingWords(b.vanishing_angle_without_house_deg),
  ],
  [
    'first unclosed opening',
    'downflooding_angle_deg',
    (b) => floodingWords(b.downflooding_angle_deg, b),
  ],
  [
    'boards out',
    'downflooding_angle_in_use_deg',
    (b) => floodingWords(b.downflooding_angle_in_use_deg, b),
  ],
];

function vanishes(b: ConditionResult): string {
  const spread = b.heeled_plus_minus;
  const words = withSd(vanishingWords(b.vanishing_angle_deg), spread?.vanishing_angle_deg, '°');
  return `${words}${byWords(spread)}`;
}

const greatest = (b: ConditionResult) =>
  `${quantity(b.greatest_gz_m ?? 0, 'm', 0.001)} at ${quantity(b.greatest_gz_at_deg ?? 0, '°', 1)}`;

export function ConditionTable({ rows }: { rows: readonly ConditionResult[] }) {
  const ids = [...new Set(rows.map((row) => row.id))];
  return (
    <ScrollBox label="Loading conditions table">
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
    </ScrollBox>
  );
}

function Condition({ id, rows }: { id: string; rows: readonly ConditionResult[] }) {
  const { condition } = useBoat();
  const { go } = useRoute();
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
          <th scope="row">{keyWords(boat.stage)}</th>
          {COLUMNS.map(([name, key, words]) => (
            <td class="n" key={name}>
              {boat.righting_levers || name === 'displacement' || name === 'GM upright' ? (
                <ResultExplainButton boat={boat} name={name} figure={key}>
                  {words(boat)}
                </ResultExplainButton>
              ) : (
                '…'
              )}
            </td>
          ))}
        </tr>
      ))}
    </tbody>
  );
}
