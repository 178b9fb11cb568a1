/** The Ledger page: every weight that comes off, goes on or moves, and the new steel. */
import { useCallback, useMemo, useState } from 'preact/hooks';
import type { TotalsResult } from '../contract.ts';
import { useBoat, useRoute } from '../session/context.tsx';
import { type LedgerLine, sectionsOf } from '../shared/boat/ledger.ts';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { AddChange } from '../shared/input/adding.tsx';
import { PageHead } from '../shared/profile/page-head.tsx';
import { kilograms, signedQuantity } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import { isMetric } from '../shared/words/units.ts';
import { EntryBox } from './entry-box.tsx';
import { Steps } from './steps.tsx';
import { Sums } from './sums.tsx';
import { LedgerTable } from './table.tsx';
import { Toolbar } from './toolbar.tsx';
import {
  isFiltered,
  type LedgerSums,
  type LedgerView,
  ledgerGroups,
  sumsOf,
  WHOLE_LEDGER,
} from './view-of.ts';
import { WeightsOnBoat } from './weights-on-boat.tsx';

export function LedgerPage() {
  const { working, effects } = useBoat();
  const { totals } = working.assessment;
  const [view, setView] = useState<LedgerView>(WHOLE_LEDGER);
  const [highlighted, highlight] = useState('');
  const sections = useMemo(() => sectionsOf(working.assessment), [working]);
  const groups = useMemo(
    () =>
      ledgerGroups(sections, view, ({ item }) => (item.effect ?? effects.get(item.path))?.trim_mm),
    [sections, view, effects],
  );
  const rows = useMemo(() => groups.flatMap((group) => group.shown), [groups]);
  const all = useMemo(() => sections.flatMap((section) => section.rows), [sections]);
  const look = useCallback((to: Partial<LedgerView>) => setView((old) => ({ ...old, ...to })), []);
  return (
    <div class="page ledger">
      <div class="ledger-sheet">
        <PageHead
          title="Ledger"
          over={(frame, width) => (
            <WeightsOnBoat
              {...{ frame, width, rows, highlighted, highlight }}
              pick={broughtIntoSight}
            />
          )}
        >
          <Lead totals={all.length > 0 ? totals : null} />
          <WhenEditable>
            <EntryBox chosen={view.change} />
          </WhenEditable>
        </PageHead>
        {sections.length > 0 && (
          <>
            <Toolbar view={view} look={look} />
            <ScrollBox label="Ledger table">
              <LedgerTable {...{ groups, view, look, highlighted, highlight }} />
            </ScrollBox>
          </>
        )}
        {rows.length === 0 && (
          <p class="about">{all.length > 0 ? 'No row matches.' : 'The ledger is empty.'}</p>
        )}
        {all.length > 0 && (
          <Sums
            shown={isFiltered(view) ? sumsOf(rows) : undefined}
            all={totals ? summed(all, totals) : sumsOf(all)}
          />
        )}
        {sections.length > 0 && (
          <WhenEditable>
            <AddChange />
          </WhenEditable>
        )}
        <Steps />
      </div>
    </div>
  );
}

/** The sums of all rows, as the server answers them. */
const summed = (rows: readonly LedgerLine[], totals: TotalsResult): LedgerSums => ({
  rows: rows.length,
  on_kg: totals.added_kg,
  off_kg: totals.removed_kg,
  moved_kg: totals.moved_kg,
  net_kg: totals.net_kg,
});

/** Brings the row of an item to the middle of the window, and its first figure to the keyboard. */
function broughtIntoSight(path: string): void {
  const row = path && document.querySelector(`[data-item="${CSS.escape(path)}"]`);
  if (!row) return;
  row.scrollIntoView({ block: 'center' });
  row.querySelector('button')?.focus({ preventScroll: true });
}

function Lead({ totals }: { totals: TotalsResult | null }) {
  const { route } = useRoute();
  return (
    <>
      <p class="lead">
        {totalWords(totals)}Places are {isMetric() ? 'metres' : 'feet and inches'} aft of the
        forward perpendicular, to starboard, and above the design waterline.
      </p>
      <WhenEditable>
        {route.option !== null && (
          <p class="lead">
            What you change, add or leave out here is kept in the option{' '}
            <b>{plainWords(route.option)}</b>; the base design stays as it is.
          </p>
        )}
      </WhenEditable>
    </>
  );
}

const totalWords = (totals: TotalsResult | null) =>
  totals
    ? `${kilograms(totals.added_kg)} go on, ${kilograms(totals.removed_kg)} come off, ` +
      `${kilograms(totals.moved_kg)} move: ${signedQuantity(totals.net_kg, 'kg', 1)} on balance. `
    : '';
