/** Each cockpit full to its coamings: what it holds, how high its sole lies, how it drains. */

import type { CockpitResult } from '../contract.ts';
import { useBoat } from '../session/context.tsx';
import { ExplainButton } from '../shared/explain/explain-button.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { number, quantity } from '../shared/words/numbers.ts';
import { keyWords, lastKey, title } from '../shared/words/plain-words.ts';
import { Criterion } from './criteria-table.tsx';

export function Cockpits() {
  const { cockpits } = useBoat().working.assessment;
  if (cockpits.length === 0) return null;
  return (
    <section class="page" aria-label="Cockpits">
      <h2>Cockpits full of water</h2>
      <p class="about">
        Full to the coamings, in the reference condition. To see how she floats with one flooded,
        choose a loading condition that floods it.
      </p>
      {cockpits.map((one) => (
        <Cockpit key={`${one.id} ${one.stage}`} one={one} />
      ))}
    </section>
  );
}

function Cockpit({ one }: { one: CockpitResult }) {
  const path = `cockpits.${one.id}.${one.stage}`;
  const figure = (name: string, key: keyof CockpitResult, words: string) => (
    <ExplainButton explained={{ title: name, path: `${path}.${key}` }}>{words}</ExplainButton>
  );
  const { sole_above_sea_mm: sole, drain_area_cm2: drains, drain_time_s: seconds } = one;
  return (
    <>
      <h3>
        {title(lastKey(one.id))}, {keyWords(one.stage)}
      </h3>
      <p>
        It holds {figure('Water in it', 'water_kg', quantity(one.water_kg, 'kg', 10))},{' '}
        {figure('What it holds', 'volume_m3', quantity(one.volume_m3, 'm³', 0.01))}. Its sole lies{' '}
        {figure(
          'Sole above the sea',
          'sole_above_sea_mm',
          `${quantity(Math.abs(sole), 'mm', 1)} ${sole < 0 ? 'below' : 'above'} the sea`,
        )}
        {drains === null ? (
          '; its drains are not given.'
        ) : (
          <>
            ; drains of{' '}
            {figure('Area of the drains', 'drain_area_cm2', quantity(drains, 'cm²', 0.1))}{' '}
            {seconds === null ? (
              'never empty it.'
            ) : (
              <>empty it in {figure('Time to drain', 'drain_time_s', `${number(seconds, 1)} s`)}.</>
            )}
          </>
        )}
      </p>
      <ScrollBox label={`Rules for ${lastKey(one.id)}, ${one.stage}`}>
        <table class="criteria">
          <thead>
            <tr>
              <th scope="col">criterion</th>
              <th scope="col">state</th>
              <th scope="col" class="n">
                found
              </th>
              <th scope="col">required</th>
              <th scope="col">grade</th>
            </tr>
          </thead>
          <tbody>
            {one.criteria.map((rule) => (
              <Criterion
                key={rule.id}
                one={rule}
                before={null}
                path={`${path}.criteria.${rule.id}`}
              />
            ))}
          </tbody>
        </table>
      </ScrollBox>
    </>
  );
}
