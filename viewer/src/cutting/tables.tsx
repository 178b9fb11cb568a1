/** What is bought, sawn and welded. */
import type { CutAnswer } from '../contract.ts';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { amount, kilograms, number, quantity } from '../shared/words/numbers.ts';
import { count, sizeWords } from '../shared/words/plain-words.ts';
import { THICKNESS_UNIT, unitSign } from '../shared/words/units.ts';
import { Ticks } from './list.tsx';
import { missingWords, sectionWords, takenWords } from './purchase.ts';
import type { CutPack } from './use-cutting.ts';

const MASSES = ['bought', 'from leftovers', 'used', 'left over', 'scrap'] as const;
const heads = () => [...MASSES.map((name) => `${name}, ${unitSign('kg')}`), 'used, %', 'price'];

export function Purchase({ answer }: { answer: CutAnswer }) {
  const { quantities: q } = answer;
  return (
    <section aria-label="To buy">
      <h3>To buy</h3>
      <ScrollBox label="Purchase list">
        <table>
          <thead>
            <tr>
              <th scope="col">material, {THICKNESS_UNIT}</th>
              <th scope="col">buy</th>
              {heads().map((head) => (
                <th key={head} scope="col" class="n">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {answer.purchase.map((row) => (
              <tr key={row.material}>
                <th scope="row">{sizeWords(row.material)}</th>
                <td>
                  {takenWords(row)}
                  {row.not_covered && <div class="refused">{missingWords(row)}</div>}
                </td>
                <td class="n">{amount(row.bought_kg, 'kg', 0.1)}</td>
                <td class="n">{amount(row.from_leftovers_kg, 'kg', 0.1)}</td>
                <td class="n">{amount(row.used_kg, 'kg', 0.1)}</td>
                <td class="n">{amount(row.left_over_kg, 'kg', 0.1)}</td>
                <td class="n">{amount(row.scrap_kg, 'kg', 0.1)}</td>
                <td class="n">{number(row.used_percent, 1)}</td>
                <td class="n">{row.price === null ? 'not given' : number(row.price, 1)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollBox>
      <p class="about">
        {kilograms(q.mass_kg)} of new steel; {quantity(q.cut_length_m, 'm', 1)} of cut and{' '}
        {count(q.pierces_count, 'pierce')}; {quantity(q.seams_m, 'm', 0.1)} of seams with{' '}
        {quantity(q.weld_metal_kg, 'kg', 0.1)} of weld metal,{' '}
        {amount(q.consumable_kg[0], 'kg', 0.1)} to {quantity(q.consumable_kg[1], 'kg', 0.1)} of{' '}
        {q.process} to buy; {quantity(q.paint_area_m2, 'm²', 0.1)} to paint, both sides. Seams to
        the old hull are extra.
      </p>
    </section>
  );
}

export function Bars({ answer, shop }: { answer: CutAnswer; shop: CutPack }) {
  if (answer.bars.length === 0) return null;
  return (
    <section aria-label="Bars">
      <h3>Bars</h3>
      <ul class="bar-plans">
        {answer.sections.map((section) => (
          <li key={section.section}>{sectionWords(section)}</li>
        ))}
      </ul>
      <details>
        <summary>{count(answer.bars.length, 'length')} to saw</summary>
        <ScrollBox class="cut-scroll" label="Lengths to saw">
          <BarTable answer={answer} shop={shop} />
        </ScrollBox>
      </details>
    </section>
  );
}

function BarTable({ answer, shop }: { answer: CutAnswer; shop: CutPack }) {
  const from = new Map(
    answer.sections.flatMap(({ bars }) =>
      bars.flatMap((bar) => bar.pieces.map((id) => [id, bar.number] as const)),
    ),
  );
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">mark</th>
          <th scope="col">section, {THICKNESS_UNIT}</th>
          <th scope="col" class="n">
            length, {unitSign('mm')}
          </th>
          <th scope="col" class="n">
            from bar
          </th>
          <th scope="col">cut</th>
          <th scope="col">checked</th>
          <th scope="col">welded</th>
        </tr>
      </thead>
      <tbody>
        {answer.bars.map((bar) => (
          <tr key={bar.id}>
            <th scope="row">{bar.id}</th>
            <td>{sizeWords(bar.section)}</td>
            <td class="n">{amount(bar.length_mm, 'mm', 1)}</td>
            <td class="n">{from.get(bar.id) ?? ''}</td>
            <Ticks shop={shop} id={bar.id} />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function Seams({ answer }: { answer: CutAnswer }) {
  if (answer.seams.length === 0) return null;
  return (
    <section aria-label="Seams">
      <h3>Seams</h3>
      <details>
        <summary>{count(answer.seams.length, 'seam')} between new plates</summary>
        <ScrollBox class="cut-scroll" label="List of seams">
          <table>
            <thead>
              <tr>
                <th scope="col">edge of</th>
                <th scope="col">on</th>
                <th scope="col">kind</th>
                <th scope="col" class="n">
                  {unitSign('m')}
                </th>
                <th scope="col" class="n">
                  leg, {unitSign('mm')}
                </th>
                <th scope="col" class="n">
                  sides
                </th>
              </tr>
            </thead>
            <tbody>
              {answer.seams.map((seam, at) => (
                <tr key={at}>
                  <th scope="row">{seam.first}</th>
                  <td>{seam.second}</td>
                  <td>{seam.kind}</td>
                  <td class="n">{amount(seam.length_m, 'm', 0.01)}</td>
                  <td class="n">{seam.leg_mm ? amount(seam.leg_mm, 'mm', 0.1) : ''}</td>
                  <td class="n">{seam.sides_count}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollBox>
      </details>
    </section>
  );
}
