/** What is picked: its effect, its form, its plates, its weights and what was found about it. */
import { useMemo } from 'preact/hooks';
import { useApp, useSnapshot } from '../app-context.ts';
import type { ChangeResult, Effect, PartResult } from '../contract.ts';
import { findingsAt } from '../findings.ts';
import { fieldsOf } from '../forms.ts';
import {
  heelWords,
  kilograms,
  number,
  placeWords,
  signed,
  sinkWords,
  trimWords,
} from '../numbers.ts';
import { hashOf } from '../route.ts';
import { count, plainWords, title } from '../words.ts';
import { ChangeWeights } from './change-weights.tsx';
import { Editing } from './editing.tsx';
import { Findings } from './findings.tsx';
import { Form } from './form.tsx';
import { Hint } from './hint.tsx';
import { Opens, type Explained } from './opens.tsx';
import { Overview } from './overview.tsx';
import { Trim } from './wedge.tsx';

export function Panel() {
  const { working, route } = useApp();
  const change = working.assessment.changes.find((c) => c.id === route.picked?.change);
  return (
    <section class="panel" id="panel" aria-label={change ? title(change.id) : 'The whole boat'}>
      {change ? <ChangePanel change={change} /> : <Overview />}
    </section>
  );
}

function ChangePanel({ change }: { change: ChangeResult }) {
  const { working, route, go, scales, readOnly } = useApp();
  const { assessment } = working;
  const parts = assessment.parts.filter((p) => p.change === change.id);
  const part = parts.find((p) => p.id === route.picked?.part);
  const path = `changes.${change.id}`;
  const inPart = part && `${path}.parts.${part.id}`;
  const found = findingsAt(assessment.findings, path).filter(
    (f) => !inPart || !(f.place === inPart || f.place.startsWith(`${inPart}.`)),
  );
  return (
    <>
      <header class="panel-head">
        <h2>{title(change.id)}</h2>
        <p>
          {change.stage} · {kilograms(change.added_kg)} on, {kilograms(change.removed_kg)} off
          {change.moved_kg > 0 && `, ${kilograms(change.moved_kg)} moved`}
        </p>
      </header>
      {(!part ||
        parts.length > 1 ||
        wholeEffect(part.effect) !== wholeEffect(change.effect)) && (
        <p class="effect-line">
          <Trim mm={change.effect.trim_mm} top={scales.trimTop} /> ·{' '}
          {effectWords(change.effect)}
        </p>
      )}
      <Findings findings={found} />
      {parts.length > 1 && (
        <fieldset class="segments parts">
          <legend class="unseen">Part</legend>
          {parts.map((one) => (
            <button
              key={one.id}
              type="button"
              aria-pressed={one === part}
              onClick={() => go({ picked: { change: change.id, part: one.id } })}
            >
              {plainWords(one.id)}
            </button>
          ))}
        </fieldset>
      )}
      {part && <PartPanel key={part.id} part={part} />}
      <ChangeWeights change={change.id} />
      <p class="to-ledger">
        <a href={hashOf({ ...route, page: 'ledger' })}>
          {readOnly ? 'All of them in the ledger' : 'Edit them in the ledger'}
        </a>
      </p>
    </>
  );
}

function PartPanel({ part }: { part: PartResult }) {
  const { kinds, working, scales } = useApp();
  const kind = kinds.find((k) => k.kind === part.kind);
  const fields = useMemo(() => (kind ? fieldsOf(kind.parameters) : []), [kind]);
  const path = `changes.${part.change}.parts.${part.id}`;
  const own = findingsAt(working.assessment.findings, path).filter(
    (f) => !fields.some((field) => f.place.startsWith(`${path}.${field.key}`)),
  );
  return (
    <>
      <div class="part-head">
        <h3>{title(part.id)}</h3>
        <p>
          {kilograms(part.mass_kg)} of steel, centre {placeWords(part.centroid_m)}
        </p>
        <p class="effect-line">
          <Opens explained={effectExplained(part)}>
            <Trim mm={part.effect.trim_mm} top={scales.trimTop} />
          </Opens>{' '}
          · {effectWords(part.effect)}
        </p>
        <Record part={part.id} />
      </div>
      <Findings findings={own} />
      <Editing>
        <Hint id="drag">
          Drag a slider: kilograms, trim and freeboards answer while you drag. Undo takes the
          whole drag back.
        </Hint>
      </Editing>
      <form
        class="form"
        onSubmit={(e) => e.preventDefault()}
        aria-label={`Dimensions of ${plainWords(part.id)}`}
      >
        <Form path={path} fields={fields} />
      </form>
      <Plates part={part} />
    </>
  );
}

/** What the solids weigh, once they are built. */
function Record({ part }: { part: string }) {
  const { record } = useSnapshot();
  const own = record?.parts.find((p) => p.id === part);
  return <p class="about">{recordWords(record?.state, own?.mass_difference_percent)}</p>;
}

function recordWords(state: string | undefined, percent: number | undefined): string {
  if (state === undefined || state === 'pending') return 'The solids are being weighed…';
  if (state === 'left out' || percent === undefined) return 'Weighed from its plates.';
  return `Weighed again from its solids: ${signed(percent, 0.01)} %.`;
}

const effectWords = (e: Effect) =>
  `${sinkWords(e.sinkage_mm)} · VCG ${signed(e.vcg_mm, 1)} mm · GM ${signed(e.gm_mm, 1)} mm`;

const wholeEffect = (e: Effect) =>
  `${trimWords(e.trim_mm)}, ${sinkWords(e.sinkage_mm)}, list ${heelWords(e.heel_deg)}, VCG ${signed(e.vcg_mm, 1)} mm, GM ${signed(e.gm_mm, 1)} mm`;

const effectExplained = (part: PartResult): Explained => ({
  title: `Effect of ${plainWords(part.id)}`,
  meaning:
    'Each is the difference of two floats: the refit, less the refit without this part. Net puts the steel it replaces back; steel alone does not.',
  rows: [
    ['net', wholeEffect(part.effect)],
    ['steel alone', part.effect_gross ? wholeEffect(part.effect_gross) : 'follows'],
    ['buoyant volume', `${signed(part.buoyant_volume_m3, 0.01)} m³`],
    [
      'weld metal, paint',
      `${kilograms(part.weld_metal_kg)}, ${kilograms(part.paint_kg)} beside it`,
    ],
  ],
  path: `parts.${part.id}.effect`,
});

function Plates({ part }: { part: PartResult }) {
  const plates = part.plates.filter((p) => p.kind === 'plate').length;
  const bars = part.plates.length - plates;
  return (
    <details class="plates">
      <summary>
        {count(plates, 'plate')}
        {bars > 0 && `, ${count(bars, 'bar')}`}, {number(part.plate_area_m2, 0.1)} m²
      </summary>
      <div class="scrolls" tabIndex={0} role="region" aria-label="Plates and bars">
        <table>
          <thead>
            <tr>
              <th scope="col">piece</th>
              <th scope="col">mm</th>
              <th scope="col">m²</th>
              <th scope="col">kg</th>
            </tr>
          </thead>
          <tbody>
            {part.plates.map((plate) => (
              <tr key={plate.id}>
                <th scope="row">{plainWords(plate.id)}</th>
                <td>{number(plate.thickness_mm, 0.5)}</td>
                <td>{number(plate.area_m2, 0.01)}</td>
                <td>{number(plate.mass_kg, 0.1)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
