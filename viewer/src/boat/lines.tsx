/** The table of measured points, line by line, and reading or keeping it as a CSV file. */
import { useState } from 'preact/hooks';
import { useBoat, useEditing } from '../session/context.tsx';
import { findingsAt } from '../shared/answer/findings.ts';
import { type HullLine, linesOf } from '../shared/boat/hull-lines.ts';
import type { Point } from '../shared/boat/points.ts';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { FigureInput } from '../shared/fields/figure-input.tsx';
import { CsvDrop } from '../shared/files/csv-drop.tsx';
import { ExportButton } from '../shared/files/export-button.tsx';
import { BodyPlan } from '../shared/input/body-plan.tsx';
import { plainWords } from '../shared/words/plain-words.ts';

const AXES = ['x, m aft', 'y, half-breadth', 'z, m up'] as const;

export function LinesSection() {
  const { document, working } = useBoat();
  return (
    <>
      <Findings findings={findingsAt(working.assessment.findings, 'hull')} />
      <BodyPlan />
      <Lines lines={linesOf(document)} />
    </>
  );
}

function Lines({ lines }: { lines: readonly HullLine[] }) {
  const [chosen, choose] = useState<string>();
  const line = lines.find((l) => l.id === chosen) ?? lines.at(-1);
  return (
    <>
      <WhenEditable>
        <CsvDrop />
      </WhenEditable>
      {line ? (
        <>
          <div class="lines-choice">
            <fieldset class="segments">
              <legend class="unseen">Line</legend>
              {lines.map((l) => (
                <button
                  key={l.id}
                  type="button"
                  aria-pressed={l === line}
                  onClick={() => choose(l.id)}
                >
                  {plainWords(l.id)}
                </button>
              ))}
            </fieldset>
            <ExportButton name="lines.csv">keep as CSV</ExportButton>
          </div>
          <LineTable line={line} />
        </>
      ) : (
        <p>No lines yet.</p>
      )}
    </>
  );
}

/** A point with one of its coordinates set. */
const moved = ([x, y, z]: Point, axis: number, to: number): Point => [
  axis === 0 ? to : x,
  axis === 1 ? to : y,
  axis === 2 ? to : z,
];

function LineTable({ line }: { line: HullLine }) {
  const { session } = useEditing();
  const path = `hull.lines.${line.id}.points_m`;
  const set = (points: readonly unknown[], label: string) => session.set(path, points, label);
  return (
    <ScrollBox class="lines-table" label={`Points of ${plainWords(line.id)}`}>
      <table>
        <thead>
          <tr>
            <th scope="col">{plainWords(line.id)}</th>
            {AXES.map((axis) => (
              <th key={axis} scope="col">
                {axis}
              </th>
            ))}
            <th scope="col">
              <span class="unseen">take out</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {line.points.map((point, row) => (
            <tr key={row}>
              <th scope="row">{row + 1}</th>
              {point.map((value, axis) => (
                <td key={axis}>
                  <FigureInput
                    label={(AXES[axis] ?? '').slice(0, 1)}
                    unit=""
                    path={path}
                    value={value}
                    what={`${plainWords(line.id)}, point ${row + 1}`}
                    within={(next) => line.points.with(row, moved(point, axis, next))}
                  />
                </td>
              ))}
              <td>
                <WhenEditable>
                  <button
                    type="button"
                    class="quiet"
                    aria-label={`Take out point ${row + 1}`}
                    onClick={() =>
                      set(
                        line.points.toSpliced(row, 1),
                        `point ${row + 1} of ${plainWords(line.id)} taken out`,
                      )
                    }
                  >
                    take out
                  </button>
                </WhenEditable>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollBox>
  );
}
