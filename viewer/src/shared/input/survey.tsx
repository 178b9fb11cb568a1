/** Freeboards as read at the marks, what they say, and how well they agree with the hull. */
import { useBoat, useEditing } from '../../session/context.tsx';
import { findingsAt } from '../answer/findings.ts';
import { at, isMapping, mapping, numberOr, text } from '../boat/document.ts';
import { Opens } from '../explain/opens.tsx';
import { Findings } from '../feedback/finding-list.tsx';
import { Scrolls } from '../feedback/scrolls.tsx';
import { Editing } from '../fields/editing.tsx';
import { FigureInput } from '../fields/figure-input.tsx';
import { heelWords, number, signed, sinkWords, trimWords } from '../words/numbers.ts';
import { plainWords, title } from '../words/plain-words.ts';
import { AddMark } from './adding-mark.tsx';

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

/** The readings at the marks, each with how far it lies off the rest. */
export function Marks() {
  const { document } = useBoat();
  const marks = mapping(at(document, 'survey.marks'));
  return (
    <>
      <Scrolls label="Freeboards as read">
        <table class="survey-table">
          <thead>
            <tr>
              <th scope="col">mark</th>
              <th scope="col">x, m aft</th>
              <th scope="col">sheer, m up</th>
              <th scope="col">port, mm</th>
              <th scope="col">off</th>
              <th scope="col">starboard, mm</th>
              <th scope="col">off</th>
              <th scope="col">
                <span class="unseen">take out</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {Object.entries(marks).map(([id, mark]) => (
              <MarkRow key={id} id={id} mark={mapping(mark)} />
            ))}
          </tbody>
        </table>
      </Scrolls>
      <Editing>
        <AddMark />
      </Editing>
    </>
  );
}

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
          <Opens explained={{ title: `${title(name)}, as surveyed`, path }}>{value}</Opens>
        ) : (
          value
        )}
        {note && <small> {note}</small>}
      </td>
    </tr>
  );
}

function MarkRow({ id, mark }: { id: string; mark: Readonly<Record<string, unknown>> }) {
  const { working } = useBoat();
  const { session } = useEditing();
  const path = `survey.marks.${id}`;
  const freeboard = mapping(mark.freeboard_m);
  const name = plainWords(id);
  const residual = (side: string) => {
    const found = working.assessment.survey.residuals.find((r) => r.mark === id && r.side === side);
    if (!found) return null;
    const off = `survey.residuals.${id}.${side}.residual_mm`;
    return (
      <Opens explained={{ title: `${title(id)}, ${side}: off`, path: off }}>
        {signed(found.residual_mm, 1)}
      </Opens>
    );
  };
  const findings = findingsAt(working.assessment.findings, path);
  return (
    <>
      <tr>
        <th scope="row">{name}</th>
        <td>
          <FigureInput
            label="x"
            unit=""
            path={`${path}.x_m`}
            value={numberOr(mark.x_m, 0)}
            what={name}
          />
        </td>
        <td>
          <FigureInput
            label="sheer"
            unit=""
            path={`${path}.sheer_z_m`}
            value={numberOr(mark.sheer_z_m, 0)}
            what={name}
            step={0.001}
          />
        </td>
        <td>
          <Freeboard
            path={`${path}.freeboard_m.port`}
            value={freeboard.port}
            label="port"
            what={name}
          />
        </td>
        <td>{residual('port')}</td>
        <td>
          <Freeboard
            path={`${path}.freeboard_m.starboard`}
            value={freeboard.starboard}
            label="starboard"
            what={name}
          />
        </td>
        <td>{residual('starboard')}</td>
        <td>
          <Editing>
            <button
              type="button"
              class="quiet"
              aria-label={`Take out mark ${name}`}
              onClick={() => session.send([{ op: 'remove', path }], `mark ${name} taken out`)}
            >
              take out
            </button>
          </Editing>
        </td>
      </tr>
      {findings.length > 0 && (
        <tr>
          <td colSpan={8}>
            <Findings findings={findings} />
          </td>
        </tr>
      )}
    </>
  );
}

function Freeboard({
  path,
  value,
  label,
  what,
}: {
  path: string;
  value: unknown;
  label: string;
  what: string;
}) {
  return (
    <FigureInput
      label={label}
      unit=""
      factor={1000}
      step={0.001}
      path={path}
      value={numberOr(value, 0)}
      what={`freeboard ${what}`}
    />
  );
}

function Water() {
  const { document } = useBoat();
  const { session, readOnly } = useEditing();
  const water = at(document, 'survey.water');
  const density = isMapping(water) ? numberOr(water.density_kg_m3, 1025) : undefined;
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
              word === 'measured' ? { density_kg_m3: 1018 } : word,
              `survey in ${word} water`,
            );
          }}
        >
          <option value="salt">salt</option>
          <option value="fresh">fresh</option>
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
        value={numberOr(at(document, 'survey.plus_minus_m'), 0.005)}
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
