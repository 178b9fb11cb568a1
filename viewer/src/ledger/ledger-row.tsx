/** One line of the ledger, and its form where it is opened. */
import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { useBoat, useEditing, useRoute } from '../session/context.tsx';
import { findingsAt } from '../shared/answer/findings.ts';
import { at, text } from '../shared/boat/document.ts';
import { type LedgerLine, ROLE_WORDS } from '../shared/boat/ledger.ts';
import { ExplainButton } from '../shared/explain/explain-button.tsx';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { Trim } from '../shared/feedback/wedge.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { NamedBody, useDocumentField } from '../shared/fields/form.tsx';
import { STEEL_KG_M3 } from '../shared/words/constants.ts';
import { amount, placeWords, quantity, withSpread } from '../shared/words/numbers.ts';
import { count, plainWords } from '../shared/words/plain-words.ts';

interface LedgerRowProps {
  readonly row: LedgerLine;
  /** Whether it is filtered away; it stays, so that it is back at once. */
  readonly isHidden: boolean;
  /** Whether its place on the drawing is pointed at. */
  readonly isHighlighted: boolean;
  /** Told its item while it is looked at, and nothing afterwards. */
  readonly highlight: (path: string) => void;
  /** Whether it names the change it belongs to. */
  readonly saysChange: boolean;
}

export function LedgerRow({ row, isHighlighted, isHidden, highlight, saysChange }: LedgerRowProps) {
  const { item } = row;
  const [open, setOpen] = useState(false);
  // the figures are drawn anew only where they change, not where the row is highlighted or hidden
  const cells = useMemo(
    () => <Cells {...{ row, open, saysChange }} turn={() => setOpen(!open)} />,
    [row, open, saysChange],
  );
  return (
    <>
      <tr
        class={`${item.role} ${isHighlighted ? 'lit' : ''}`}
        hidden={isHidden}
        data-path={row.path || undefined}
        data-item={item.path}
        onPointerEnter={() => highlight(item.path)}
        onPointerLeave={() => highlight('')}
        onFocusCapture={() => highlight(item.path)}
        onBlurCapture={() => highlight('')}
      >
        {cells}
      </tr>
      {open && !isHidden && <EditRow row={row} />}
    </>
  );
}

function EditRow({ row }: { row: LedgerLine }) {
  const { findings } = useBoat().working.assessment;
  return (
    <tr class="edit-row">
      <td colSpan={11}>
        <WeightForm row={row} />
        <Findings findings={row.path ? findingsAt(findings, row.path) : []} />
      </td>
    </tr>
  );
}

interface CellsProps extends EditProps {
  readonly saysChange: boolean;
}

function Cells({ row, open, saysChange, turn }: CellsProps) {
  const { working } = useBoat();
  const { item } = row;
  const findings = row.path ? findingsAt(working.assessment.findings, row.path) : [];
  return (
    <>
      <th scope="row">
        {row.name}
        {findings.length > 0 && <small> {count(findings.length, 'check')}</small>}
        {saysChange && <small class="of-change"> {plainWords(item.change)}</small>}
      </th>
      <td class="editing">
        <WhenEditable>
          <Edit row={row} open={open} turn={turn} />
        </WhenEditable>
      </td>
      <td>{ROLE_WORDS[item.role]}</td>
      <td class="n">
        <ExplainButton explained={explainedOf(row, working.document)}>
          {amount(item.mass_kg, 'kg', item.mass_kg < 10 ? 0.1 : 1)}
        </ExplainButton>
      </td>
      <td class="n">
        <OfRow row={row} what="±" figure="plus_minus_kg">
          {amount(item.plus_minus_kg, 'kg', item.plus_minus_kg < 3 ? 0.1 : 1)}
        </OfRow>
      </td>
      {AXES.map((axis, i) => (
        <Coordinate key={axis} row={row} axis={axis} i={i} />
      ))}
      <td>{item.provenance}</td>
      <td>
        <EffectOnTrim row={row} />
      </td>
      <td class="doing">
        <WhenEditable>
          <Delete row={row} />
        </WhenEditable>
      </td>
    </>
  );
}

const AXES = ['x', 'y', 'z'] as const;

/** Where it is along an axis, and where it goes to. */
function Coordinate({ row, axis, i }: { row: LedgerLine; axis: string; i: number }) {
  const { at_m, to_m } = row.item;
  const at = at_m[i] ?? NaN;
  return (
    <td class="n">
      <OfRow row={row} what={axis} figure={`at_m.${axis}`}>
        {amount(at, 'm', 0.01)}
      </OfRow>
      {to_m && (
        <small>
          →{' '}
          <OfRow row={row} what={`to ${axis}`} figure={`to_m.${axis}`}>
            {amount(to_m[i] ?? at, 'm', 0.01)}
          </OfRow>
        </small>
      )}
    </td>
  );
}

function EffectOnTrim({ row }: { row: LedgerLine }) {
  const { effects, scales } = useBoat();
  const effect = row.item.effect ?? effects.get(row.item.path);
  if (!effect) return <small>follows…</small>;
  return (
    <OfRow row={row} what="effect on trim" figure="effect.trim_mm">
      <Trim mm={effect.trim_mm} top={scales.trimTop} />
    </OfRow>
  );
}

interface EditProps {
  readonly row: LedgerLine;
  readonly open: boolean;
  readonly turn: () => void;
}

/** A weight is edited here, a part on Float. */
function Edit({ row, open, turn }: EditProps) {
  const { go } = useRoute();
  const { change, role, name } = row.item;
  if (role === 'part')
    return (
      <button
        type="button"
        class="quiet"
        onClick={() => go({ page: 'float', picked: { change, part: name } })}
      >
        Edit<span class="unseen"> dimensions of {row.name}</span>
      </button>
    );
  if (role === 'allowance' || row.path === '') return null;
  return (
    <button type="button" class="quiet" aria-expanded={open} onClick={turn}>
      {open ? 'Close' : 'Edit'}
      <span class="unseen"> {row.name}</span>
    </button>
  );
}

/** At the far end of the row; one undo brings it back. */
function Delete({ row }: { row: LedgerLine }) {
  const { session } = useEditing();
  if (!row.path) return null;
  return (
    <button type="button" class="quiet" onClick={() => session.remove(row.path, row.name)}>
      Delete<span class="unseen"> {row.name}</span>
    </button>
  );
}

interface OfRowProps {
  readonly row: LedgerLine;
  readonly what: string;
  readonly figure: string;
  readonly children: ComponentChildren;
}

/** A figure of a line that opens. */
const OfRow = ({ row, what, figure, children }: OfRowProps) => (
  <ExplainButton
    explained={{ title: `${row.name}, ${what}`, path: `items.${row.item.path}.${figure}` }}
  >
    {children}
  </ExplainButton>
);

function explainedOf(row: LedgerLine, document: unknown) {
  const { item } = row;
  const note = text(at(document, `${row.path}.note`));
  const rows: (readonly [string, string])[] = [
    ['mass', withSpread(item.mass_kg, item.plus_minus_kg, 'kg', 0.1)],
    ['place', placeWords(item.at_m)],
    ['from', item.provenance],
  ];
  if (item.to_m) rows.push(['goes to', placeWords(item.to_m)]);
  if (row.rises) rows.push(['height', row.rises]);
  if (item.replaced_by) rows.push(['replaced by', item.replaced_by]);
  if (note) rows.push(['note', note]);
  return {
    title: row.name,
    meaning: meaningOf(item.role),
    rows,
    path: `items.${item.path}.mass_kg`,
  };
}

const MEANING = {
  removed: 'A weight that was aboard at the survey and comes off.',
  added: 'A weight that goes on.',
  moved: 'A weight that stays aboard and moves.',
  part: 'New steel: every plate and bar from its dimensions, at ',
  allowance: 'What new steel weighs beyond its plates and bars; common practice, no source.',
} as const;

const meaningOf = (role: keyof typeof MEANING): string =>
  MEANING[role] + (role === 'part' ? `${quantity(STEEL_KG_M3, 'kg/m³', 1)}.` : '');

/** The form of a weight; each figure is kept as it is left. */
function WeightForm({ row }: { row: LedgerLine }) {
  const field = useDocumentField(row.path);
  if (!field) return null;
  return (
    <section class="weight-fields" aria-label={row.name}>
      {row.rises && <p class="about">Its height {row.rises}.</p>}
      <NamedBody field={field} path={row.path} />
    </section>
  );
}
