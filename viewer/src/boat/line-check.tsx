/** How far each reading stands off the others: the worst first, and what to tape to be sure. */
import { useState } from 'preact/hooks';
import type { AskedTape, LinesResult, PointOffResult, TapedResult } from '../contract.ts';
import { useBoat, useEditing } from '../session/context.tsx';
import { at } from '../shared/boat/document.ts';
import { pointAt } from '../shared/boat/line-points.ts';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { quantity, signedAmount } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';
import { LENGTH_WANTED, quantityTyped } from '../shared/words/typed.ts';
import { unitSign } from '../shared/words/units.ts';

/** Tapes that are asked for at first; the rest on demand. */
const FIRST = 5;

export function LineCheck({ choose }: { choose: (line: string) => void }) {
  const { lines } = useBoat().working.assessment;
  if (!lines) return <p class="about">Comparing the readings…</p>;
  return (
    <section class="line-check" aria-label="Check of the readings">
      <Worst lines={lines} choose={choose} />
      {lines.taped.length > 0 && (
        <ul>
          {lines.taped.map((one) => (
            <li key={one.id}>{tapedWords(one)}</li>
          ))}
        </ul>
      )}
      <WhenEditable>
        <Asked asked={lines.asked} />
      </WhenEditable>
    </section>
  );
}

function Worst({ lines, choose }: { lines: LinesResult; choose: (line: string) => void }) {
  const worst = lines.worst.flatMap(
    (place) => lines.points.find((one) => one.place === place && one.words) ?? [],
  );
  if (worst.length === 0) return <p class="about">All readings agree with each other.</p>;
  return (
    <>
      <p class="about">
        Each reading is compared with the curve through all the others. Furthest off (a slip of the
        tape shows up as more than three times the usual difference):
      </p>
      <ul>
        {worst.map((one) => (
          <WorstPoint key={one.place} point={one} choose={choose} />
        ))}
      </ul>
    </>
  );
}

function WorstPoint({ point, choose }: { point: PointOffResult; choose: (line: string) => void }) {
  const { document } = useBoat();
  const { session } = useEditing();
  const [line, i] = pointAt(point.place);
  const points = at(document, `hull.lines.${line}.points_m`);
  const read: unknown = Array.isArray(points) ? points[i] : undefined;
  const x = Array.isArray(read) ? Number(read[0]) : 0;
  const key = `${line}-${i + 1}`;
  const isAgain = at(document, `hull.read_again.${key}`) !== undefined;
  return (
    <li>
      <button type="button" class="quiet" onClick={() => choose(line)}>
        {plainWords(line)}, point {i + 1}
      </button>{' '}
      {reworded(point.words)}{' '}
      <WhenEditable>
        {isAgain ? (
          <small>read again</small>
        ) : (
          <button
            type="button"
            class="quiet"
            onClick={() =>
              session.send(
                [{ op: 'set', path: `hull.read_again.${key}`, value: { line, at_x_m: x } }],
                `${plainWords(line)}, point ${i + 1} read again`,
              )
            }
          >
            measured again, it is right
          </button>
        )}
      </WhenEditable>
    </li>
  );
}

const tapedWords = ({ id, off_mm, plus_minus_mm, fits }: TapedResult): string =>
  `${plainWords(id)}: taped ${signedAmount(off_mm, 'mm', 1)} ± ${quantity(plus_minus_mm, 'mm', 1)} ` +
  `compared with its points${fits ? '' : ': it does not fit them. Tape it again, or measure the points again'}.`;

/** Distances to tape, what tells most first. */
function Asked({ asked }: { asked: readonly AskedTape[] }) {
  const [all, setAll] = useState(false);
  if (asked.length === 0) return null;
  return (
    <>
      <p class="about">
        At the ends and along the stem the readings cannot check each other. One taped distance for
        each pair settles it; the most useful come first.
      </p>
      <ul>
        {asked.slice(0, all ? asked.length : FIRST).map((one) => (
          <AskedRow key={one.id} tape={one} />
        ))}
      </ul>
      {!all && asked.length > FIRST && (
        <button type="button" class="quiet" onClick={() => setAll(true)}>
          {asked.length - FIRST} more
        </button>
      )}
    </>
  );
}

const endWords = ({ line, at_x_m, side }: AskedTape['begins']): string =>
  `${plainWords(line)} at x ${quantity(at_x_m, 'm', 0.01)}${side === 'port' ? ', port side' : ''}`;

function AskedRow({ tape }: { tape: AskedTape }) {
  const { session } = useEditing();
  const [wrong, setWrong] = useState('');
  const take = async (input: HTMLInputElement) => {
    const distance_m = quantityTyped(input.value, 'm');
    if (input.value.trim() === '') return;
    if (!Number.isFinite(distance_m))
      return setWrong(`Type the distance, such as ${LENGTH_WANTED}.`);
    const { begins, ends } = tape;
    const value = { from: begins, to: ends, distance_m };
    const why = await session.add(`hull.taped.${tape.id}`, value, `${plainWords(tape.id)} taped`);
    setWrong(why.join(' '));
  };
  return (
    <li title={reworded(tape.why)}>
      <label>
        from {endWords(tape.begins)} to {endWords(tape.ends)}, {unitSign('m')}{' '}
        <input
          inputMode="decimal"
          size={7}
          autocomplete="off"
          onChange={(e) => void take(e.currentTarget)}
        />
      </label>
      {wrong && (
        <span class="refused" role="alert">
          {wrong}
        </span>
      )}
    </li>
  );
}

/** How far a point is off, beside it in the table. */
export function offCell(lines: LinesResult | null, line: string, i: number) {
  const found = lines?.points.find((one) => one.place === `hull.lines.${line}.points_m[${i}]`);
  if (!found) return null;
  if (found.off_mm === null) return <small title={reworded(found.not_judged)}>not judged</small>;
  const words = reworded(found.words);
  const isWorst = lines?.worst.includes(found.place);
  return isWorst && words ? <b>{words}</b> : words || '0';
}
