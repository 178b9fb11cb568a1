/** What the survey afloat says, and how well it agrees with the hull. */
import { useBoat } from '../../session/context.tsx';
import { ExplainButton } from '../explain/explain-button.tsx';
import { heelWords, number, sinkWords, trimWords } from '../words/numbers.ts';
import { title } from '../words/plain-words.ts';
import { Marks } from './marks.tsx';

export function Survey() {
  const { working } = useBoat();
  const { survey } = working.assessment;
  const { plus_minus: pm } = survey;
  return (
    <>
      <p class="lead">{sentence(survey.agreement)}</p>
      <Marks />
      <p class="about">
        "Off" is how far a reading lies above the plane through them all. χ² is{' '}
        {number(survey.chi_square, 0.01)}; with {survey.degrees_of_freedom} readings more than
        needed, about {survey.degrees_of_freedom} is usual.
      </p>
      <table class="plain-table">
        <tbody>
          <Line
            name="displacement"
            path="survey.displacement_kg"
            value={`${number(survey.displacement_kg, 10)} ± ${number(pm.displacement_kg, 10)} kg`}
            note={`of which ± ${number(survey.hull_shape_displacement_kg, 10)} kg from the lines`}
          />
          <Line
            name="LCG"
            path="survey.centre_of_gravity_m.x"
            value={`${number(survey.centre_of_gravity_m[0], 0.01)} ± ${number(pm.lcg_m, 0.01)} m aft`}
          />
          <Line
            name="VCG"
            path="survey.centre_of_gravity_m.z"
            value={`${number(survey.centre_of_gravity_m[2], 0.01)} ± ${number(pm.vcg_m, 0.01)} m`}
            note={survey.vcg_from}
          />
          <Line
            name="sinkage"
            path="survey.sinkage_mm"
            value={`${sinkWords(survey.sinkage_mm)} than the design waterline`}
          />
          <Line
            name="trim"
            path="survey.trim_mm"
            value={`${trimWords(survey.trim_mm)} ± ${number(pm.trim_mm, 1)} mm`}
          />
          <Line
            name="list"
            path="survey.heel_deg"
            value={`${heelWords(survey.heel_deg)} ± ${number(pm.heel_deg, 0.1)}°`}
          />
          <Line
            name="GM upright"
            path="survey.gm_m"
            value={`${number(survey.gm_m, 0.01)} ± ${number(pm.gm_m, 0.01)} m`}
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
