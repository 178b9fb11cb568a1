/** The readings at the freeboard marks, each with how far it lies off the rest. */
import { useBoat, useEditing } from '../../session/context.tsx';
import { findingsAt } from '../answer/findings.ts';
import { at, mapping, numberOr } from '../boat/document.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { Findings } from '../feedback/finding-list.tsx';
import { ScrollBox } from '../feedback/scroll-box.tsx';
import { WhenEditable } from '../fields/editing.tsx';
import { FigureInput } from '../fields/figure-input.tsx';
import { signedAmount } from '../words/numbers.ts';
import { plainWords, title } from '../words/plain-words.ts';
import { unitSign } from '../words/units.ts';
import { AddMark } from './adding-mark.tsx';

export function Marks() {
  const { document } = useBoat();
  const marks = mapping(at(document, 'survey.marks'));
  return (
    <>
      <ScrollBox label="Freeboards as read">
        <table class="survey-table">
          <thead>
            <tr>
              <th scope="col">mark</th>
              <th scope="col">x, {unitSign('m')} aft</th>
              <th scope="col">sheer, {unitSign('m')} up</th>
              <th scope="col">port, {unitSign('mm')}</th>
              <th scope="col">off</th>
              <th scope="col">starboard, {unitSign('mm')}</th>
              <th scope="col">off</th>
              <th scope="col">±, mm</th>
              <th scope="col">
                <span class="unseen">delete</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {Object.entries(marks).map(([id, mark]) => (
              <MarkRow key={id} id={id} mark={mapping(mark)} />
            ))}
          </tbody>
        </table>
      </ScrollBox>
      <WhenEditable>
        <AddMark />
      </WhenEditable>
    </>
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
      <ExplainButton explained={{ title: `${title(id)}, ${side}: off`, path: off }}>
        {signedAmount(found.residual_mm, 'mm', 1)}
      </ExplainButton>
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
            unit="m"
            bare
            path={`${path}.x_m`}
            value={numberOr(mark.x_m, 0)}
            what={name}
          />
        </td>
        <td>
          <FigureInput
            label="sheer"
            unit="m"
            bare
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
          <PlusMinus path={`${path}.plus_minus_m`} value={mark.plus_minus_m} what={name} />
        </td>
        <td>
          <WhenEditable>
            <button
              type="button"
              class="quiet"
              aria-label={`Delete mark ${name}`}
              onClick={() => session.remove(path, `mark ${name}`)}
            >
              delete
            </button>
          </WhenEditable>
        </td>
      </tr>
      {findings.length > 0 && (
        <tr>
          <td colSpan={9}>
            <Findings findings={findings} />
          </td>
        </tr>
      )}
    </>
  );
}

interface PlusMinusProps {
  readonly path: string;
  readonly value: unknown;
  readonly what: string;
}

/** Of the readings at this mark, where they are worth more or less than the rest. */
const PlusMinus = ({ path, value, what }: PlusMinusProps) => (
  <FigureInput
    label="±"
    unit=""
    factor={1000}
    step={0.001}
    path={path}
    value={typeof value === 'number' ? value : undefined}
    what={`freeboard ${what}`}
    optional
  />
);

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
      unit="mm"
      bare
      factor={1000}
      step={0.001}
      path={path}
      value={numberOr(value, 0)}
      what={`freeboard ${what}`}
    />
  );
}
