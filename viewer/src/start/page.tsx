/** The empty start: hull, freeboards, what comes off, what goes on, in this order. */
import { useState } from 'preact/hooks';
import type { ItemResult } from '../contract.ts';
import { useBoat, useEditing, useRoute } from '../session/context.tsx';
import { hashOf } from '../session/route.ts';
import { keepStart, STEPS, type StartStep, startOf } from '../session/start-steps.ts';
import { findingsAt } from '../shared/answer/findings.ts';
import { at, numberOr } from '../shared/boat/document.ts';
import { sectionsOf } from '../shared/boat/ledger.ts';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { FigureInput } from '../shared/fields/figure-input.tsx';
import { CsvDrop } from '../shared/files/csv-drop.tsx';
import { AddChange, AddWeight, type ItemRole } from '../shared/input/adding.tsx';
import { BodyPlan } from '../shared/input/body-plan.tsx';
import { Marks } from '../shared/input/marks.tsx';
import { AddPart } from '../shared/input/new-part.tsx';
import { kilograms, placeWords } from '../shared/words/numbers.ts';
import { title } from '../shared/words/plain-words.ts';
import { Picture } from './pictures.tsx';

const QUESTIONS: Readonly<Record<StartStep, readonly [string, string]>> = {
  hull: [
    'Her hull',
    'Ashore, at 8 to 15 stations: centreline, chines and sheer, with tape, plumb line or laser, to 5 or 10 mm.',
  ],
  freeboards: [
    'How she floats today',
    'In a calm, both sides, from the sheer straight down to the water at three marks or more, to 3 or 5 mm.',
  ],
  'comes-off': [
    'What comes off',
    'Each weight by hook scale, luggage scale or receipt; its place by tape from one datum, 20 mm along and 10 mm up.',
  ],
  'goes-on': [
    'What goes on',
    'New weights from catalogue or drawing, and new steel from a few dimensions. Places from the same datum.',
  ],
};

export function StartPage() {
  const { working } = useBoat();
  const { route } = useRoute();
  const [done, setDone] = useState<readonly StartStep[]>(() => startOf(working.refit) ?? []);
  const turn = (step: StartStep) => {
    const next = done.includes(step) ? done.filter((s) => s !== step) : [...done, step];
    setDone(next);
    keepStart(working.refit, next);
  };
  return (
    <div class="page start">
      <h2>Make her yours</h2>
      <p class="lead">
        She begins as an invented boat that floats. Put your own in her place, in this order; until
        all four are yours, the figures above are the invented boat's.
      </p>
      <ol>
        {STEPS.map((step, i) => (
          <li key={step} class={done.includes(step) ? 'done' : ''}>
            <Picture step={step} />
            <div class="step">
              <h3>
                {i + 1}. {QUESTIONS[step][0]}
              </h3>
              <p class="about">{QUESTIONS[step][1]}</p>
              <StepContent step={step} />
              <label class="switch">
                <input type="checkbox" checked={done.includes(step)} onChange={() => turn(step)} />
                this is my own boat's now
              </label>
            </div>
          </li>
        ))}
      </ol>
      <p>
        <a href={hashOf({ ...route, page: 'float' })}>
          {done.length === STEPS.length
            ? 'She is yours: see her float'
            : 'See her float as she is so far'}
        </a>
      </p>
    </div>
  );
}

function StepContent({ step }: { step: StartStep }) {
  switch (step) {
    case 'hull':
      return <HullStep />;
    case 'freeboards':
      return <Marks />;
    case 'comes-off':
      return <Weights shown={['removed']} roles={['removed']} steel={false} />;
    case 'goes-on':
      return <Weights shown={['added', 'moved', 'part']} roles={['added', 'moved']} steel />;
  }
}

function HullStep() {
  const { document, working } = useBoat();
  const { route } = useRoute();
  const length = numberOr(at(document, 'hull.length_waterline_m'), 0);
  return (
    <>
      <BodyPlan />
      <CsvDrop />
      <p class="about">
        Or <a href={hashOf({ ...route, page: 'boat', section: 'lines' })}>type the points</a>, line
        by line.
      </p>
      <FigureInput
        label="length of the design waterline"
        unit="m"
        path="hull.length_waterline_m"
        value={length}
        what="hull"
      />
      <Findings findings={findingsAt(working.assessment.findings, 'hull')} />
    </>
  );
}

interface WeightsProps {
  readonly shown: readonly ItemResult['role'][];
  readonly roles: readonly ItemRole[];
  readonly steel: boolean;
}

function Weights({ shown, roles, steel }: WeightsProps) {
  const { working } = useBoat();
  const { session } = useEditing();
  const [adding, setAdding] = useState<'weight' | 'steel'>();
  const sections = sectionsOf(working.assessment);
  const [chosen, choose] = useState<string>();
  const change = sections.find((s) => s.change.id === chosen)?.change.id ?? sections[0]?.change.id;
  const rows = sections.flatMap((s) => s.rows.filter((r) => shown.includes(r.item.role)));
  return (
    <>
      <ul class="start-weights">
        {rows.map((row) => (
          <li key={row.item.path}>
            <b>{row.name}</b> {kilograms(row.item.mass_kg, row.item.plus_minus_kg)},{' '}
            {placeWords(row.item.at_m)} <small>{title(row.item.change)}</small>
            <button
              type="button"
              class="quiet"
              aria-label={`Take out ${row.name}`}
              onClick={() =>
                session.send([{ op: 'remove', path: row.path }], `${row.name} taken out`)
              }
            >
              take out
            </button>
          </li>
        ))}
      </ul>
      {change === undefined ? (
        <AddChange />
      ) : (
        <>
          <label class="choice">
            <span>for the change</span>
            <select value={change} onChange={(e) => choose(e.currentTarget.value)}>
              {sections.map((s) => (
                <option key={s.change.id} value={s.change.id}>
                  {title(s.change.id)}
                </option>
              ))}
            </select>
          </label>
          <button
            type="button"
            class="quiet"
            aria-expanded={adding === 'weight'}
            onClick={() => setAdding('weight')}
          >
            add a weight
          </button>
          {steel && (
            <button
              type="button"
              class="quiet"
              aria-expanded={adding === 'steel'}
              onClick={() => setAdding('steel')}
            >
              add new steel
            </button>
          )}
          {adding === 'weight' && (
            <AddWeight change={change} roles={roles} done={() => setAdding(undefined)} />
          )}
          {adding === 'steel' && <AddPart change={change} done={() => setAdding(undefined)} />}
        </>
      )}
    </>
  );
}
