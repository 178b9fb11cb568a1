/** Openings of the boat: how high they lie and at which heel they go under. */
import type { ConditionResult, OpeningResult } from '../contract.ts';
import { angleWords, inUseWords, openingWords } from '../shared/answer/criteria.ts';
import { ResultExplainButton } from '../shared/explain/result-explain-button.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { quantity } from '../shared/words/numbers.ts';
import { plainWords, title } from '../shared/words/plain-words.ts';

const first = (o: OpeningResult) => o.immersion_angle_deg ?? 999;

export function OpeningsTable({ now }: { now: ConditionResult }) {
  if (now.openings.length === 0) return <p class="about">No openings are entered.</p>;
  return (
    <ScrollBox label="Openings table">
      <table class="openings">
        <thead>
          <tr>
            <th scope="col">opening</th>
            <th scope="col" class="n">
              above water at rest
            </th>
            <th scope="col" class="n">
              goes under at
            </th>
            <th scope="col" class="n">
              area
            </th>
            <th scope="col">closing</th>
          </tr>
        </thead>
        <tbody>
          {now.openings
            .toSorted((a, b) => first(a) - first(b))
            .map((opening) => (
              <tr key={`${opening.id} ${opening.side}`}>
                <th scope="row">
                  {title(openingWords(opening))}
                  <small> into the {opening.into_hull ? 'hull' : 'house'}</small>
                </th>
                <td class="n">
                  <ResultExplainButton
                    boat={now}
                    name={`height of ${plainWords(opening.id)}`}
                    figure={`openings.${opening.id}.${opening.side}.height_mm`}
                  >
                    {quantity(opening.height_mm, 'mm', 1)}
                  </ResultExplainButton>
                </td>
                <td class="n">
                  {opening.immersion_angle_deg === null ? (
                    'stays dry'
                  ) : (
                    <ResultExplainButton
                      boat={now}
                      name={`heel that puts ${plainWords(opening.id)} under`}
                      figure={`openings.${opening.id}.${opening.side}.immersion_angle_deg`}
                    >
                      {angleWords(opening.immersion_angle_deg)}
                    </ResultExplainButton>
                  )}
                  {opening.heeled_to && <small> to {opening.heeled_to}</small>}
                </td>
                <td class="n">
                  <ResultExplainButton
                    boat={now}
                    name={`area of ${plainWords(opening.id)}`}
                    figure={`openings.${opening.id}.${opening.side}.area_m2`}
                  >
                    {quantity(opening.area_m2 * 1e4, 'cm²', 1)}
                  </ResultExplainButton>
                </td>
                <td>
                  {opening.closing === 'none' ? <b>nothing</b> : opening.closing}
                  <small> {inUseWords(opening)}</small>
                </td>
              </tr>
            ))}
        </tbody>
      </table>
    </ScrollBox>
  );
}
