/** What one gets, shown before a cut pack is made. */
import { useBoat, useRoute } from '../session/context.tsx';
import { hashOf } from '../session/route.ts';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { amount, kilograms, quantity, thickness } from '../shared/words/numbers.ts';
import { count, sizeWords } from '../shared/words/plain-words.ts';
import { THICKNESS_UNIT, unitSign } from '../shared/words/units.ts';
import { type SteelTotal, steelTotals } from './preview.ts';

function useTotals(): readonly SteelTotal[] {
  const { working, document } = useBoat();
  return steelTotals(working.assessment.parts, document);
}

export function PackPreview() {
  const { route } = useRoute();
  const totals = useTotals();
  if (totals.length === 0)
    return (
      <p class="about">
        There is no new steel in this refit yet, so no plate to cut.{' '}
        <a href={hashOf({ ...route, page: 'ledger' })}>Add new steel in the ledger</a>. A pack made
        now contains the steel to remove and the openings to cut.
      </p>
    );
  return (
    <section class="preview" aria-label="New steel">
      <h3>New steel</h3>
      <SteelTable totals={totals} />
    </section>
  );
}

/** The files of a pack, each with a small drawing. */
export function PackHolds() {
  if (useTotals().length === 0) return null;
  return (
    <section class="preview" aria-label="What you get">
      <h3>What you get</h3>
      <ul class="preview-files">
        {FILES.map(({ title, words, drawing }) => (
          <li key={title}>
            <svg viewBox="0 0 64 44" aria-hidden="true">
              {drawing}
            </svg>
            <p>
              <b>{title}</b> <span class="about">{words}</span>
            </p>
          </li>
        ))}
      </ul>
    </section>
  );
}

function SteelTable({ totals }: { totals: readonly SteelTotal[] }) {
  const mass = totals.reduce((sum, one) => sum + one.mass_kg, 0);
  return (
    <div>
      <ScrollBox label="Steel by thickness">
        <table>
          <thead>
            <tr>
              <th scope="col">steel, {THICKNESS_UNIT}</th>
              <th scope="col" class="n">
                pieces
              </th>
              <th scope="col" class="n">
                {unitSign('m²')}
              </th>
              <th scope="col" class="n">
                {unitSign('kg')}
              </th>
              <th scope="col">sheets in your stock</th>
            </tr>
          </thead>
          <tbody>
            {totals.map((one) => (
              <tr key={`${one.kind} ${one.thickness_mm} ${one.section}`}>
                <th scope="row">
                  {one.section
                    ? sizeWords(one.section)
                    : `${thickness(one.thickness_mm)} ${one.kind}`}
                </th>
                <td class="n">{one.count}</td>
                <td class="n">{one.kind === 'plate' ? amount(one.area_m2, 'm²', 0.1) : '—'}</td>
                <td class="n">{amount(one.mass_kg, 'kg', 1)}</td>
                <td>{one.kind === 'plate' ? sheetWords(one) : 'sawn from stock lengths'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollBox>
      <p class="about">
        {kilograms(mass)} in{' '}
        {count(
          totals.reduce((sum, one) => sum + one.count, 0),
          'piece',
        )}
        , before plates longer than a sheet are divided.
      </p>
    </div>
  );
}

const sheetWords = ({ sheets_m: sheets }: SteelTotal): string =>
  sheets.length === 0
    ? 'none listed: add them under Stock and cutting on the Boat page'
    : sheets
        .map(
          ([length, breadth]) => `${amount(length, 'm', 0.01)} × ${quantity(breadth, 'm', 0.01)}`,
        )
        .join(', ');

const SHEET = 'M4,4H60V40H4Z';
const PLATE = 'M10,36L14,12L44,8L54,34Z';

/** What the pack holds, each with a small drawing. */
const FILES = [
  {
    title: 'Outlines',
    words: 'one DXF for each plate, full size, with its mark, centrelines and bend lines',
    drawing: (
      <>
        <path class="body" d={PLATE} />
        <path class="thin" d="M12,24L50,21" />
        <text x="26" y="32">
          A3
        </text>
      </>
    ),
  },
  {
    title: 'Nests',
    words: 'the plates laid out on your sheets, as DXF, SVG and PDF, with what to buy',
    drawing: (
      <>
        <path class="thin" d={SHEET} />
        <path class="body" d="M7,37L9,20L30,16L33,37Z" />
        <path class="body" d="M36,37L38,18L57,22L57,37Z" />
        <path class="body" d="M8,14L10,7H52L56,14Z" />
      </>
    ),
  },
  {
    title: 'Templates',
    words: 'full-size paper to mark out by hand: A4 tiles, or one roll',
    drawing: (
      <>
        <path class="body" d={PLATE} />
        <path class="thin" d="M4,4H60V40H4ZM23,4V40M42,4V40M4,22H60" stroke-dasharray="3 2" />
      </>
    ),
  },
  {
    title: 'Lists and labels',
    words: 'cut list, bars to saw, purchase list, a label and a sheet for each plate with its mass',
    drawing: (
      <>
        <path class="body" d="M8,6H40V38H8Z" />
        <path class="thin" d="M12,13H36M12,19H36M12,25H36M12,31H28" />
        <path class="body" d="M36,22H60V36H36Z" />
        <path class="thin" d="M40,27H56M40,31H50" />
      </>
    ),
  },
  {
    title: 'Old steel to remove',
    words: 'the steel to remove and the openings to cut, by distances from marks you can find',
    drawing: (
      <>
        <path class="thin" d="M4,34C24,26 44,26 60,30" />
        <path class="body" d="M20,30V14H46V28" stroke-dasharray="3 2" />
      </>
    ),
  },
] as const;
