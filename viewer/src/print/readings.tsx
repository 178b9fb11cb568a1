/** On paper: the readings furthest off the others, how many nothing checks, and what was taped. */
import type { LinesResult } from '../contract.ts';
import { useBoat } from '../session/context.tsx';
import { pointAt } from '../shared/boat/line-points.ts';
import { quantity, signedAmount } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';

export function ReadingsTable() {
  const { lines } = useBoat().working.assessment;
  if (!lines) return null;
  const worst = lines.worst.flatMap(
    (place) => lines.points.find((one) => one.place === place && one.words) ?? [],
  );
  return (
    <table class="close">
      <thead>
        <tr>
          <th scope="col">readings of the lines</th>
          <th scope="col">off the others</th>
        </tr>
      </thead>
      <tbody>
        {worst.map(({ place, words }) => {
          const [line, i] = pointAt(place);
          return (
            <tr key={place}>
              <th scope="row">
                {plainWords(line)}, point {i + 1}
              </th>
              <td>{reworded(words)}</td>
            </tr>
          );
        })}
        {lines.taped.map(({ id, off_mm, plus_minus_mm, fits }) => (
          <tr key={id}>
            <th scope="row">taped: {plainWords(id)}</th>
            <td>
              {signedAmount(off_mm, 'mm', 1)} ± {quantity(plus_minus_mm, 'mm', 1)}
              {fits ? '' : ', does not fit'}
            </td>
          </tr>
        ))}
        <tr>
          <th scope="row">points not judged</th>
          <td>{notJudgedWords(lines)}</td>
        </tr>
      </tbody>
    </table>
  );
}

const notJudgedWords = ({ points }: LinesResult): string =>
  `${points.filter((one) => one.off_mm === null).length} of ${points.length}`;
