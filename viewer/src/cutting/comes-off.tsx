/** Steel to remove: old plates in the order of cutting, and what the ledger takes off. */
import type { CutAnswer, CutComesOff } from '../contract.ts';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { amount, placeWords } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import { unitSign } from '../shared/words/units.ts';

export function ComesOff({ answer }: { answer: CutAnswer }) {
  const { comes_off } = answer;
  if (comes_off.length === 0) return null;
  return (
    <section class="comes-off" aria-label="Steel to remove">
      <h3>Steel to remove</h3>
      <p class="about">
        Bare old plates, by the document’s dimensions, in the order of cutting, highest first. The
        ledger rows are the weights counted, including the same steel. The file yard/cut-out.pdf
        shows the lifting points, the order of work and its dangers.
      </p>
      <ScrollBox class="cut-scroll" label="List of steel to remove">
        <table>
          <thead>
            <tr>
              <th scope="col">what</th>
              <th scope="col">from</th>
              <th scope="col" class="n">
                {unitSign('kg')}
              </th>
              <th scope="col">centre</th>
              <th scope="col">lift by</th>
              <th scope="col">lifting points, x y z {unitSign('m')}</th>
            </tr>
          </thead>
          {comes_off.map((off) => (
            <OffRows key={off.change} off={off} />
          ))}
        </table>
      </ScrollBox>
    </section>
  );
}

const OffRows = ({ off }: { off: CutComesOff }) => (
  <tbody>
    <tr>
      <th scope="rowgroup" colSpan={6}>
        {plainWords(off.change)}
      </th>
    </tr>
    {off.plates.map((plate, at) => (
      <tr key={plate.id}>
        <th scope="row">
          {at + 1}. {plate.id}
        </th>
        <td>{plainWords(plate.plate)}</td>
        <td class="n">{amount(plate.mass_kg, 'kg', 1)}</td>
        <td>{placeWords(plate.centre_m)}</td>
        <td>{plate.lift_by}</td>
        <td>{plate.hang_at_m.map(triple).join('; ') || 'sling around it'}</td>
      </tr>
    ))}
    {off.weights.map((weight) => (
      <tr key={weight.id}>
        <th scope="row">{plainWords(weight.id)}</th>
        <td>ledger{weight.replaced_by && `; replaced by ${plainWords(weight.replaced_by)}`}</td>
        <td class="n">{amount(weight.mass_kg, 'kg', 1)}</td>
        <td>{placeWords(weight.centre_m)}</td>
        <td>{weight.lift_by}</td>
        <td />
      </tr>
    ))}
  </tbody>
);

const triple = (at: readonly number[]) => at.map((value) => amount(value, 'm', 0.01)).join('  ');
