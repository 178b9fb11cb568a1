/** What is picked: its effect, its form, its plates, its weights and what was found about it. */
import { useMemo, useState } from 'preact/hooks';
import type { ChangeResult, PartResult } from '../../contract.ts';
import {
  useBoat,
  useEditing,
  useKnown,
  useReview,
  useRoute,
  useSnapshot,
} from '../../session/context.tsx';
import { openAbout, threadsOf } from '../../session/review.ts';
import { hashOf } from '../../session/route.ts';
import { countedOf, effectOrNone } from '../answer/effects.ts';
import { findingsAt } from '../answer/findings.ts';
import { CommentOn } from '../comments/composer.tsx';
import { ExplainButton } from '../explain/explain-button.tsx';
import type { Explained, ExplanationLine } from '../explain/explanation-card.tsx';
import { Findings } from '../feedback/finding-list.tsx';
import { Hint } from '../feedback/hint.tsx';
import { loader, useLoaded } from '../feedback/loaded.ts';
import { WaitingHere } from '../feedback/waiting.tsx';
import { WhenEditable } from '../fields/editing.tsx';
import { type Field, fieldsOf } from '../fields/forms.ts';
import { kilograms, placeWords, quantity, signed, signedQuantity } from '../words/numbers.ts';
import { plainWords, title } from '../words/plain-words.ts';
import { ChangeWeights } from './change-weights.tsx';
import { EffectLine, wholeEffect } from './effect-line.tsx';
import { Overview } from './overview.tsx';
import { PanelHandle } from './panel-handle.tsx';
import { Plates } from './plates.tsx';

export function Panel() {
  const { working } = useBoat();
  const { route } = useRoute();
  const change = working.assessment.changes.find((c) => c.id === route.picked?.change);
  const [up, setUp] = useState(false);
  const name = change ? title(change.id) : 'Whole refit';
  return (
    <section class={`panel ${up ? 'up' : ''}`} id="panel" aria-label={name}>
      <PanelHandle up={up} setUp={setUp} words={name} />
      <div class="panel-inside" id="panel-inside">
        {change ? <ChangePanel change={change} /> : <Overview />}
      </div>
    </section>
  );
}

function ChangePanel({ change }: { change: ChangeResult }) {
  const { working } = useBoat();
  const { route, go } = useRoute();
  const { readOnly } = useEditing();
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
          {change.stage} · <Mass change={change} figure="added_kg" word="on" />,{' '}
          <Mass change={change} figure="removed_kg" word="off" />
          {change.moved_kg > 0 && (
            <>
              , <Mass change={change} figure="moved_kg" word="moved" />
            </>
          )}{' '}
          · <CommentOn on={{ path }} />
        </p>
        <OpenComments path={path} parts={parts.map((one) => one.id)} />
      </header>
      {(!part ||
        parts.length > 1 ||
        wholeEffect(effectOrNone(part)) !== wholeEffect(effectOrNone(change))) && (
        <EffectLine of={change} path={path} meaning={OF_A_CHANGE} />
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

/** What is still open about a change or its parts; each leads to its thread. */
function OpenComments({ path, parts }: { path: string; parts: readonly string[] }) {
  const { reviewState } = useReview();
  const { go } = useRoute();
  const open = openAbout(threadsOf(reviewState.review), path, parts);
  if (open.length === 0) return null;
  return (
    <ul class="open-comments" aria-label="Open comments">
      {open.map(({ comment, number: n }) => (
        <li key={comment.id}>
          <button
            type="button"
            class="quiet"
            onClick={() => go({ page: 'review', comment: comment.id })}
          >
            {n}. {comment.text}
          </button>
        </li>
      ))}
    </ul>
  );
}

function PartPanel({ part }: { part: PartResult }) {
  const { kinds } = useKnown();
  const { working } = useBoat();
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
          <ExplainButton
            explained={{
              title: `Steel of ${plainWords(part.id)}, weld metal and paint`,
              path: `parts.${part.id}.mass_counted_kg`,
            }}
          >
            {kilograms(countedOf(part))}
          </ExplainButton>{' '}
          with weld metal and paint, centre{' '}
          <ExplainButton explained={centreExplained(part)}>
            {placeWords(part.centroid_m)}
          </ExplainButton>{' '}
          · <CommentOn on={{ part: part.id }} />
        </p>
        <EffectLine of={part} path={`parts.${part.id}`} meaning={OF_A_PART} rows={restOf(part)} />
        <Record part={part.id} />
      </div>
      <Findings findings={own} />
      <WhenEditable>
        <Hint id="drag">
          Drag a slider: mass, trim and freeboards answer while you drag. Undo takes the whole drag
          back.
        </Hint>
      </WhenEditable>
      <form
        class="form"
        onSubmit={(e) => e.preventDefault()}
        aria-label={`Dimensions of ${plainWords(part.id)}`}
      >
        <PartForm path={path} fields={fields} />
      </form>
      <Plates part={part} />
    </>
  );
}

/** The form, which is loaded when a part is first picked: the first picture needs none. */
const FORM = loader(() => import('../fields/form.tsx').then(({ Form }) => Form));

function PartForm({ path, fields }: { path: string; fields: readonly Field[] }) {
  const [Form, trouble] = useLoaded(FORM);
  if (Form) return <Form path={path} fields={fields} />;
  return <WaitingHere words={trouble ? `The form could not be loaded. ${trouble}` : 'Opening…'} />;
}

/** What the solids weigh, once they are built. */
function Record({ part }: { part: string }) {
  const { record, recordTrouble } = useSnapshot();
  const own = record?.parts.find((p) => p.id === part);
  if (recordTrouble) return <p class="about">Not checked by CAD solids. {recordTrouble}</p>;
  return <p class="about">{recordWords(record?.state, own?.mass_difference_percent)}</p>;
}

function recordWords(state: string | undefined, percent: number | undefined): string {
  if (state === undefined || state === 'pending') return 'Checking by CAD solids…';
  if (state === 'left out' || percent === undefined) return 'Calculated from its plates.';
  return `CAD solids agree to ${signed(percent, 0.01)} %.`;
}

const OF_A_CHANGE = 'Refit minus refit without this change.';
const OF_A_PART =
  'Refit minus refit without this part, weld metal and paint left out. Net puts the old steel back; gross leaves it off. What the part lifts, such as the rig, comes down in both.';

interface MassProps {
  readonly change: ChangeResult;
  readonly figure: 'added_kg' | 'removed_kg' | 'moved_kg';
  readonly word: string;
}

function Mass({ change, figure, word }: MassProps) {
  const path = `changes.${change.id}.${figure}`;
  return (
    <>
      <ExplainButton explained={{ title: `${title(change.id)}: ${word}`, path }}>
        {kilograms(change[figure])}
      </ExplainButton>{' '}
      {word}
    </>
  );
}

const AXES = ['x, aft', 'y, to starboard', 'z, up'] as const;

const centreExplained = (part: PartResult): Explained => ({
  title: `Centre of ${plainWords(part.id)}`,
  rows: part.centroid_m.map(
    (value, i): ExplanationLine => [
      AXES[i] ?? '',
      quantity(value, 'm', 0.001),
      `parts.${part.id}.centroid_m.${'xyz'.charAt(i)}`,
    ],
  ),
});

function restOf(part: PartResult): readonly ExplanationLine[] {
  const path = (figure: string) => `parts.${part.id}.${figure}`;
  const gross = part.effect_gross;
  return [
    gross
      ? ['gross: old steel left off', wholeEffect(gross), path('effect_gross.trim_mm')]
      : ['gross: old steel left off', 'follows'],
    [
      'buoyant volume',
      signedQuantity(part.buoyant_volume_m3, 'm³', 0.01),
      path('buoyant_volume_m3'),
    ],
    ['plates and bars', kilograms(part.mass_kg), path('mass_kg')],
    ['weld metal', kilograms(part.weld_metal_kg), path('weld_metal_kg')],
    ['paint', kilograms(part.paint_kg), path('paint_kg')],
  ];
}
