/** What the survey afloat says, and how well it agrees with the hull. */
import { useBoat } from '../../session/context.tsx';
import { ExplainButton } from '../explain/explain-button.tsx';
import {
  gmStep,
  heelWords,
  massStep,
  number,
  quantity,
  sinkWords,
  trimWords,
  withSpread,
} from '../words/numbers.ts';
import { title } from '../words/plain-words.ts';
import { reworded } from '../words/sentences.ts';
import { Marks } from './marks.tsx';

export function Survey() {
  const { working } = useBoat();
  const { survey } = working.assessment;
  const { plus_minus: pm } = survey;
  const step = massStep(pm.displacement_kg);
  return (
    <>
      <p class="lead">{reworded(sentence(survey.agreement))}</p>
      <Marks />
      <p class="about">
        Off: reading minus best-fit waterplane. χ² is {number(survey.chi_square, 0.01)}; with{' '}
        {survey.degrees_of_freedom} readings more than needed, about {survey.degrees_of_freedom} is
        usual.
      </p>
      <table class="plain-table">
        <tbody>
          <Line
            name="displacement"
            path="survey.displacement_kg"
            value={withSpread(survey.displacement_kg, pm.displacement_kg, 'kg', step)}
            note={`of which ± ${quantity(survey.hull_shape_displacement_kg, 'kg', step)} from the lines`}
          />
          <Line
            name="LCG"
            path="survey.centre_of_gravity_m.x"
            value={`${withSpread(survey.centre_of_gravity_m[0], pm.lcg_m, 'm', 0.01)} aft`}
          />
          <Line
            name="VCG"
            path="survey.centre_of_gravity_m.z"
            value={withSpread(survey.centre_of_gravity_m[2], pm.vcg_m, 'm', 0.01)}
            note={reworded(survey.vcg_from)}
          />
          <Line
            name="sinkage"
            path="survey.sinkage_mm"
            value={`${sinkWords(survey.sinkage_mm)} than the design waterline`}
          />
          <Line
            name="trim"
            path="survey.trim_mm"
            value={`${trimWords(survey.trim_mm)} ± ${quantity(pm.trim_mm, 'mm', 1)}`}
          />
          <Line
            name="list"
            path="survey.heel_deg"
            value={`${heelWords(survey.heel_deg)} ± ${quantity(pm.heel_deg, '°', 0.1)}`}
          />
          <Line
            name="GM upright"
            path="survey.gm_m"
            value={withSpread(survey.gm_m, pm.gm_m, 'm', gmStep(survey.gm_m))}
          />
        </tbody>
      </table>
    </>
  );
}

const sentence = (words: string) =>
  `${words.charAt(0).toUpperCase()}${words.slice(1).replace(/\.$/, '')}.`;

export function Line({
  name,
  value,
  note = '',
  path,
}: {
  name: string;
  value: string;
  path?: string;
  note?: string;
}) {
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>
        {path ? (
          <ExplainButton explained={{ title: `${title(name)}, as surveyed`, path }}>
            {value}
          </ExplainButton>
        ) : (
          value
        )}
        {note && <small> {note}</small>}
      </td>
    </tr>
  );
}
