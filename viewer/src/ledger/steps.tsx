/** From the boat as found to the refit, change by change; the steps add up exactly. */
import type { ComponentChildren } from 'preact';
import type { Effect } from '../contract.ts';
import { useBoat, useSnapshot } from '../session/context.tsx';
import { ExplainButton } from '../shared/explain/explain-button.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { Trim } from '../shared/feedback/wedge.tsx';
import { heelWords, signedAmount, sinkWords } from '../shared/words/numbers.ts';
import { plainWords, title } from '../shared/words/plain-words.ts';
import { unitSign } from '../shared/words/units.ts';

export function Steps() {
  const { working } = useBoat();
  const { full = working } = useSnapshot();
  const { waterfall, reference_condition: reference } = full.assessment;
  if (waterfall.steps.length === 0) return null;
  const kilograms = waterfall.total_displacement_kg;
  return (
    <>
      <h3>Step by step, {title(reference).toLowerCase()}</h3>
      <p class="about">
        Each change is added to those before it and the boat is floated again, so the steps add up
        exactly. The effect on a change's card is the difference it makes if it alone is left out.
      </p>
      <ScrollBox label="Step by step">
        <table class="steps">
          <thead>
            <tr>
              <th scope="col">with</th>
              <th scope="col" class="n">
                {unitSign('kg')}
              </th>
              <th scope="col">trim</th>
              <th scope="col">sinkage</th>
              <th scope="col">list</th>
              <th scope="col" class="n">
                VCG, {unitSign('mm')}
              </th>
              <th scope="col" class="n">
                GM upright, {unitSign('mm')}
              </th>
            </tr>
          </thead>
          <tbody>
            {waterfall.steps.map((step) => (
              <EffectRow
                key={step.change}
                name={title(step.change)}
                kg={
                  <ExplainButton
                    explained={{
                      title: `Step of ${plainWords(step.change)}, displacement`,
                      path: `waterfall.steps.${step.change}.displacement_kg`,
                    }}
                  >
                    {signedAmount(step.displacement_kg, 'kg', 1)}
                  </ExplainButton>
                }
                effect={step.effect}
                path={`waterfall.steps.${step.change}.effect`}
              />
            ))}
          </tbody>
          <tfoot>
            <EffectRow
              name="whole refit"
              kg={kilograms === null ? '—' : signedAmount(kilograms, 'kg', 1)}
              effect={waterfall.total}
              path="waterfall.total"
            />
            {waterfall.leave_one_out_remainder && (
              <EffectRow
                name="whole refit less the sum of the cards"
                kg=""
                effect={waterfall.leave_one_out_remainder}
                path="waterfall.leave_one_out_remainder"
              />
            )}
          </tfoot>
        </table>
      </ScrollBox>
    </>
  );
}

interface RowProps {
  readonly name: string;
  readonly kg: ComponentChildren;
  readonly effect: Effect;
  /** Of the effect. */
  readonly path: string;
}

function EffectRow({ name, kg, effect, path }: RowProps) {
  const { scales } = useBoat();
  const opens = (figure: keyof Effect, what: string, words: ComponentChildren) => (
    <ExplainButton explained={{ title: `${name}, ${what}`, path: `${path}.${figure}` }}>
      {words}
    </ExplainButton>
  );
  return (
    <tr>
      <th scope="row">{name}</th>
      <td class="n">{kg}</td>
      <td>{opens('trim_mm', 'trim', <Trim mm={effect.trim_mm} top={scales.trimTop} />)}</td>
      <td>{opens('sinkage_mm', 'sinkage', sinkWords(effect.sinkage_mm))}</td>
      <td>{opens('heel_deg', 'list', heelWords(effect.heel_deg))}</td>
      <td class="n">{opens('vcg_mm', 'VCG', signedAmount(effect.vcg_mm, 'mm', 1))}</td>
      <td class="n">{opens('gm_mm', 'GM upright', signedAmount(effect.gm_mm, 'mm', 1))}</td>
    </tr>
  );
}
