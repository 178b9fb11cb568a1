/** One printed page of figures; legible without colour. */
import { useMemo } from 'preact/hooks';
import type { Assessment, ConditionResult } from '../contract.ts';
import { useBoat, useReview, useRoute, useSnapshot } from '../session/context.tsx';
import { rangeSentence } from '../shared/answer/criteria.ts';
import { effectOrNone } from '../shared/answer/effects.ts';
import { bothBoats, figures } from '../shared/answer/figures.ts';
import { SEVERITY_WORDS } from '../shared/answer/findings.ts';
import { comparedIn, floatsIn, unansweredIn } from '../shared/answer/floats.ts';
import { atRestWords } from '../shared/answer/uncertainty.ts';
import { frameOf, upturned } from '../shared/boat/side-view.ts';
import { CautionList, NotScreened } from '../shared/feedback/cautions.tsx';
import { ExportFiles } from '../shared/files/export-files.tsx';
import { ProfileDrawing } from '../shared/profile/profile.tsx';
import {
  amount,
  gmStep,
  heelWords,
  kilograms,
  signedAmount,
  sinkWords,
  trimEffectWords,
  trimWords,
} from '../shared/words/numbers.ts';
import { keyWords, optionWords, plainWords, title } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';
import { unitAfter, unitSign } from '../shared/words/units.ts';
import { SheetPicture } from './picture.tsx';
import { ReadingsTable } from './readings.tsx';

const WIDTH = 700;

export function PrintPage() {
  return (
    <div class="page print-page">
      <p class="print-do">
        <button type="button" onClick={() => print()}>
          Print this page
        </button>
      </p>
      <ExportFiles />
      <PrintSheet />
    </div>
  );
}

/** The sheet itself; on other pages it is there for the printer only. */
export function PrintSheet() {
  const { working, condition } = useBoat();
  const { route } = useRoute();
  const { signable, standing } = useReview();
  const { assessment } = working;
  const revision = route.revision ?? signable?.revision ?? undefined;
  const frame = useMemo(() => frameOf(working.profile), [working]);
  const serious = assessment.findings.filter((f) => f.severity !== 'note');
  return (
    <article class="print-sheet" data-paper="print" aria-label="Printed page">
      <header class="title-block">
        <h2>{assessment.boat}</h2>
        <dl>
          <Entry name="option" value={optionWords(route.option)} />
          <Entry name="condition" value={plainWords(condition)} />
          <Entry name="date" value={new Date().toISOString().slice(0, 10)} />
          <Entry
            name="document"
            value={`${assessment.document_sha256.slice(0, 12)}, ${
              revision === undefined ? `edit ${working.edit}` : `revision ${revision}`
            }`}
          />
          <Entry name="state" value={standing?.standing ?? '…'} />
        </dl>
      </header>
      {standing && standing.standing !== 'unsigned' && (
        <p class="print-standing">{[standing.sentence, ...standing.conflicts].join(' ')}</p>
      )}
      <NotScreened />
      <div class="sheet-views">
        <SheetPicture />
        <ProfileDrawing frame={frame} width={WIDTH} plain />
      </div>
      <FigureTable />
      <Flooding />
      <ConditionTable assessment={assessment} />
      <ChangeTable />
      <ReadingsTable />
      {serious.length > 0 && (
        <>
          <h3>Checks</h3>
          <ul class="print-list">
            {serious.map((f) => (
              <li key={f.place + f.sentence}>
                <b>{SEVERITY_WORDS[f.severity]}</b> {reworded(f.sentence)}
              </li>
            ))}
          </ul>
        </>
      )}
      <div class="print-cautions">
        <h3>Cautions</h3>
        <CautionList />
      </div>
      <footer>
        hullchange {assessment.hullchange}. ± is one standard deviation. Heights above the design
        waterline, places aft of the forward perpendicular.
      </footer>
    </article>
  );
}

const Entry = ({ name, value }: { name: string; value: string }) => (
  <div>
    <dt>{name}</dt>
    <dd>{value}</dd>
  </div>
);

function FigureTable() {
  const { working, condition } = useBoat();
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{title(condition)}</th>
          <th scope="col">refit</th>
          <th scope="col">±</th>
          <th scope="col">as found</th>
          <th scope="col">change</th>
          <th scope="col">±</th>
        </tr>
      </thead>
      <tbody>
        {figures(comparedIn(working.assessment), condition).map((f) => (
          <tr key={f.id}>
            <th scope="row">{f.label}</th>
            <td>
              {f.value} {f.side}
            </td>
            <td>{f.plusMinus}</td>
            <td>{f.wasInFull}</td>
            <td>{f.change}</td>
            <td>{f.changePlusMinus}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Where the sea comes in first in the condition that is looked at, and the range that leaves. */
function Flooding() {
  const { working, condition } = useBoat();
  const { full } = useSnapshot();
  const { before, after } = bothBoats(comparedIn((full ?? working).assessment), condition);
  const now = after ?? before;
  if (!now?.flooding_sentence) return null;
  return (
    <p class="print-list">
      <b>{title(condition)}</b> {reworded(now.flooding_sentence)} {rangeSentence(now)}
    </p>
  );
}

/** What says something of a boat that stands only. */
const afloat = (boat: ConditionResult, words: () => string) => (upturned(boat) ? '—' : words());

const bare = (words: string) => words.replace(unitAfter('mm'), '');

function ConditionTable({ assessment }: { assessment: Assessment }) {
  const floats = floatsIn(assessment);
  const marks = floats[0] ? floats[0].freeboards_at_marks.map((f) => f.mark) : [];
  const silent = [...new Set(assessment.conditions.map((row) => row.id))].flatMap((id) =>
    unansweredIn(assessment, id),
  );
  return (
    <table class="close">
      <thead>
        <tr>
          <th scope="col">condition</th>
          <th scope="col">boat</th>
          <th scope="col" class="n">
            displacement
          </th>
          <th scope="col">sinkage, {unitSign('mm')}</th>
          <th scope="col">trim, {unitSign('mm')}</th>
          <th scope="col">list</th>
          <th scope="col" class="n">
            GM upright, {unitSign('m')}
          </th>
          {marks.map((mark, i) => (
            <th key={mark} scope="col" class="n">
              {i === 0 ? `freeboards, means of both sides, ${unitSign('mm')}: ` : ''}
              {plainWords(mark)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {floats.map((c) => (
          <tr key={c.id + c.stage}>
            <th scope="row">{plainWords(c.id)}</th>
            <td>{keyWords(c.stage)}</td>
            <td class="n">{kilograms(c.displacement_kg, c.plus_minus.displacement_kg)}</td>
            <td>{afloat(c, () => bare(sinkWords(c.sinkage_mm)))}</td>
            <td>{afloat(c, () => bare(trimWords(c.trim_mm)))}</td>
            <td>{upturned(c) ? 'upside down' : heelWords(c.heel_deg)}</td>
            <td class="n">
              {amount(c.gm_m, 'm', gmStep(c.gm_m))}
              {atRestWords(c)}
            </td>
            {c.freeboards_at_marks.map((f) => (
              <td key={f.mark} class="n">
                {afloat(c, () => amount(f.mean_mm, 'mm', 1))}
              </td>
            ))}
          </tr>
        ))}
        {silent.map((row) => (
          <tr key={row.id + row.stage}>
            <th scope="row">{plainWords(row.id)}</th>
            <td>{keyWords(row.stage)}</td>
            <td colSpan={5 + marks.length}>no results: {reworded(row.unanswered)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function ChangeTable() {
  const { working } = useBoat();
  if (working.assessment.changes.length === 0) return null;
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">change</th>
          <th scope="col">stage</th>
          <th scope="col" class="n">
            on, {unitSign('kg')}
          </th>
          <th scope="col" class="n">
            off, {unitSign('kg')}
          </th>
          <th scope="col">effect on trim</th>
          <th scope="col">sinkage</th>
          <th scope="col" class="n">
            VCG, {unitSign('mm')}
          </th>
          <th scope="col" class="n">
            GM upright, {unitSign('mm')}
          </th>
        </tr>
      </thead>
      <tbody>
        {working.assessment.changes.map((c) => (
          <tr key={c.id}>
            <th scope="row">{title(c.id)}</th>
            <td>{c.stage}</td>
            <td class="n">{amount(c.added_kg, 'kg', 1)}</td>
            <td class="n">{amount(c.removed_kg, 'kg', 1)}</td>
            <td>{trimEffectWords(effectOrNone(c).trim_mm)}</td>
            <td>{sinkWords(effectOrNone(c).sinkage_mm)}</td>
            <td class="n">{signedAmount(effectOrNone(c).vcg_mm, 'mm', 1)}</td>
            <td class="n">{signedAmount(effectOrNone(c).gm_mm, 'mm', 1)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
