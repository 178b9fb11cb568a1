/** Openings measured again after cutting out: typed in here, and the new part set to them. */
import { useState } from 'preact/hooks';
import type { CutAnswer, CutOpening } from '../contract.ts';
import { useBoat, useEditing, useRoute } from '../session/context.tsx';
import { findingsAt } from '../shared/answer/findings.ts';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { amount, quantity } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import { isMetric, unitSign } from '../shared/words/units.ts';
import { openingAsRead, readingShown } from './words.ts';

export function Openings({ answer }: { answer: CutAnswer }) {
  if (answer.openings.length === 0) return null;
  return (
    <section class="openings-read" aria-label="Openings measured">
      <h3>Openings measured</h3>
      <p class="about">
        After cutting out, punch four corner marks on the deck where the middle of the new plates
        will be, and measure the sides and diagonals between them. The sixth distance shows a slip
        of the tape. Stretch a string from corner to corner, and measure down to the deck at
        mid-length.
      </p>
      {answer.openings.map((opening) => (
        <OneOpening key={opening.path} opening={opening} />
      ))}
    </section>
  );
}

function OneOpening({ opening }: { opening: CutOpening }) {
  const { session, readOnly } = useEditing();
  const { working } = useBoat();
  const { route } = useRoute();
  const [typed, setTyped] = useState<ReadonlyMap<string, string>>(new Map());
  const wasRead = opening.readings.some((row) => row.read_mm !== null);
  const readings = openingAsRead(opening, typed);
  const [wrong, setWrong] = useState('');
  const keep = async () => {
    const label = `opening of ${plainWords(opening.part)} read`;
    const why = await session.add(opening.path, readings, label);
    setWrong(why.join(' '));
    if (why.length === 0) setTyped(new Map());
  };
  const isLocked = readOnly || route.option !== null;
  return (
    <details open={wasRead}>
      <summary>
        {plainWords(opening.part)}: {wasRead ? 'measured' : 'not measured yet'}
      </summary>
      <ScrollBox label={`Opening of ${opening.part}`}>
        <table>
          <thead>
            <tr>
              <th scope="col">from mark to mark, {unitSign('mm')}</th>
              <th scope="col" class="n">
                drawn
              </th>
              <th scope="col" class="n">
                measured
              </th>
              <th scope="col" class="n">
                off by
              </th>
              <th scope="col" class="n">
                after fitting
              </th>
            </tr>
          </thead>
          <tbody>
            {opening.readings.map((reading) => (
              <ReadingRow
                key={reading.key}
                reading={reading}
                typed={typed.get(reading.key)}
                isLocked={isLocked}
                type={(text) => setTyped(new Map(typed).set(reading.key, text))}
              />
            ))}
          </tbody>
        </table>
      </ScrollBox>
      <Findings findings={findingsAt(working.assessment.findings, opening.path)} />
      <WhenEditable>
        <p class="pack-do">
          <button
            type="button"
            disabled={isLocked || readings === undefined || typed.size === 0}
            onClick={() => void keep()}
          >
            Save the readings
          </button>
          <SetButton opening={opening} isLocked={isLocked} />
          <span class="about">
            {' '}
            Then make the pack again. All six distances are needed; the heights below and above the
            string may be left empty.
          </span>
        </p>
        <RefusalMessage words={wrong} />
      </WhenEditable>
    </details>
  );
}

interface ReadingProps {
  readonly reading: CutOpening['readings'][number];
  readonly typed: string | undefined;
  readonly isLocked: boolean;
  readonly type: (text: string) => void;
}

function ReadingRow({ reading, typed, isLocked, type }: ReadingProps) {
  const { words, drawn_mm, read_mm, fitted_mm } = reading;
  const current = read_mm === null ? '' : readingShown(read_mm);
  return (
    <tr>
      <th scope="row">{words}</th>
      <td class="n">{amount(drawn_mm, 'mm', 1)}</td>
      <td class="n">
        <input
          type="text"
          inputMode="decimal"
          aria-label={`${words}, ${unitSign('mm')}`}
          disabled={isLocked}
          value={typed ?? current}
          data-kept={current}
          onInput={(e) => type(e.currentTarget.value)}
        />
      </td>
      <td class="n">{read_mm === null ? '' : amount(drawn_mm - read_mm, 'mm', 1)}</td>
      <td class="n">
        {read_mm === null || fitted_mm === null ? '' : amount(fitted_mm - read_mm, 'mm', 1)}
      </td>
    </tr>
  );
}

/** Sets the new part to its opening. */
function SetButton({ opening, isLocked }: { opening: CutOpening; isLocked: boolean }) {
  const { session } = useEditing();
  const values = Object.entries(opening.values_m);
  if (values.length === 0) return null;
  const steps = values.map(([path, value]) => ({ op: 'set' as const, path, value }));
  return (
    <button
      type="button"
      disabled={isLocked}
      onClick={() => session.send(steps, `${opening.part} set to its opening`)}
    >
      Set {values.map(([path, value]) => valueWords(path, value)).join(', ')}
    </button>
  );
}

const valueWords = (path: string, value: number | readonly number[]) =>
  `${plainWords((path.split('.').at(-1) ?? '').replace(/_m$/, ''))} ${[value]
    .flat()
    .map((one) => quantity(one, 'm', isMetric() ? 0.001 : 0.002))
    .join(' × ')}`;
