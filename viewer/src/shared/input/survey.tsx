/** What the survey afloat says, and how well it agrees with the hull. */
import { useBoat, useEditing } from '../../session/context.tsx';
import { at, isMapping, numberOr, text } from '../boat/document.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { FigureInput } from '../fields/figure-input.tsx';
import { READING_PLUS_MINUS_M, WATERS_KG_M3 } from '../words/constants.ts';
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
      <Water />
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
      <Height />
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

function Water() {
  const { document } = useBoat();
  const { session, readOnly } = useEditing();
  const water = at(document, 'survey.water');
  const density = isMapping(water) ? numberOr(water.density_kg_m3, WATERS_KG_M3.salt) : undefined;
  const chosen = density === undefined ? text(water) || 'salt' : 'measured';
  return (
    <form class="weight-form" onSubmit={(e) => e.preventDefault()} aria-label="Survey">
      <label>
        <span>water</span>
        <select
          value={chosen}
          disabled={readOnly}
          onChange={(e) => {
            const word = e.currentTarget.value;
            session.set(
              'survey.water',
              word === 'measured' ? { density_kg_m3: WATERS_KG_M3.salt } : word,
              `survey in ${word} water`,
            );
          }}
        >
          {Object.keys(WATERS_KG_M3).map((one) => (
            <option key={one} value={one}>
              {one}
            </option>
          ))}
          <option value="measured">measured density</option>
        </select>
      </label>
      {density !== undefined && (
        <FigureInput
          label="density"
          unit="kg/m³"
          path="survey.water.density_kg_m3"
          value={density}
          step={1}
          what="survey"
        />
      )}
      <FigureInput
        label="one reading ±"
        unit="mm"
        factor={1000}
        step={0.001}
        path="survey.plus_minus_m"
        value={numberOr(at(document, 'survey.plus_minus_m'), READING_PLUS_MINUS_M)}
        what="survey"
      />
    </form>
  );
}

/** Where the height of the centre of gravity is typed. */
function Height() {
  const { document } = useBoat();
  const vcg = at(document, 'survey.vcg');
  if (!isMapping(vcg)) return null;
  return (
    <form
      class="weight-form"
      onSubmit={(e) => e.preventDefault()}
      aria-label="Height of the centre of gravity"
    >
      <FigureInput
        label="VCG above the design waterline"
        unit="m"
        path="survey.vcg.z_m"
        value={numberOr(vcg.z_m, 0)}
        what="survey"
      />
      <FigureInput
        label="±"
        unit="m"
        path="survey.vcg.plus_minus_m"
        value={numberOr(vcg.plus_minus_m, 0)}
        what="VCG"
      />
      {text(vcg.note) && <p class="about">{text(vcg.note)}</p>}
    </form>
  );
}
