/** Where an owner's own boat begins: what to have at hand, then each step in order. */
import type { AssumedResult } from '../contract.ts';
import { useBoat, useRoute } from '../session/context.tsx';
import { hashOf } from '../session/route.ts';
import { assumedIn, statusOf } from '../shared/boat/assumed.ts';
import { SECTIONS, sectionOf } from '../shared/boat/sections.ts';
import { reveal } from '../shared/explain/reveal.ts';
import { Picture } from '../shared/input/pictures.tsx';
import { AT_HAND, STEPS, type Step } from '../shared/input/steps.ts';
import { GM_STEP, isNothing, quantity } from '../shared/words/numbers.ts';
import { count, title } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';

export function StartPage() {
  const { document } = useBoat();
  const { route } = useRoute();
  const assumed = assumedIn(document);
  return (
    <div class="page start">
      <h2>Enter your boat</h2>
      <p class="lead">
        One evening with your measurements, step by step. What you have not measured yet is assumed
        from typical proportions and marked so, with the uncertainty each assumption adds. Come back
        any time: everything is on the Boat page.{' '}
        <a href={hashOf({ ...route, page: 'guide', entry: 'measure-lines' })}>
          How to measure, in more detail
        </a>
      </p>
      <OwnFigures />
      <details class="at-hand">
        <summary>What to have at hand</summary>
        <ul>
          {AT_HAND.map((thing) => (
            <li key={thing}>{reworded(thing)}</li>
          ))}
        </ul>
      </details>
      <ol>
        {STEPS.map((step, i) => (
          <li key={step.title}>
            <Picture name={step.picture} />
            <StepText step={step} number={i + 1} assumed={assumed} />
          </li>
        ))}
      </ol>
      <p>
        <a href={hashOf({ ...route, page: 'float' })}>See how she floats so far</a>
      </p>
    </div>
  );
}

/** How far she is the owner's own, what the rest costs, and what to measure next. */
function OwnFigures() {
  const { working } = useBoat();
  const { route } = useRoute();
  const { own_figures: own, assumed } = working.assessment;
  if (!own) return <p>Counting her figures…</p>;
  if (assumed.length === 0) return <p>All {own.all} figures are yours.</p>;
  const path = own.next?.path ?? '';
  const section = own.next ? sectionOf(path) : undefined;
  return (
    <section class="own-figures" aria-label="Progress: figures that are yours">
      <p>
        <b>
          {own.yours} of {own.all} figures are yours.
        </b>{' '}
        {own.next && section && (
          <a href={hashOf({ ...route, page: 'boat', section })} onClick={() => reveal(path)}>
            Measure next: {own.next.words}
          </a>
        )}
      </p>
      <ul>
        {assumed.map((one) => (
          <li key={one.path}>
            {title(one.words)}: {count(one.figures, 'figure')} assumed{costWords(one)}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What an assumption costs in plus/minus. */
function costWords({ plus_minus: cost }: AssumedResult): string {
  if (!cost) return '';
  const costs = (
    [
      ['GM', cost.gm_m, 'm', GM_STEP],
      ['displacement', cost.displacement_kg, 'kg', 10],
      ['trim', cost.trim_mm, 'mm', 1],
    ] as const
  ).filter(([, sd, unit, step]) => !isNothing(sd, unit, step));
  const words = costs.map(([name, sd, unit, step]) => `${name} ±${quantity(sd, unit, step)}`);
  return words.length > 0 ? `: ${words.join(', ')}` : '';
}

const stepPaths = (step: Step) => step.paths ?? SECTIONS[step.section].paths;

interface StepProps {
  readonly step: Step;
  readonly number: number;
  readonly assumed: readonly string[];
}

function StepText({ step, number, assumed }: StepProps) {
  const { document } = useBoat();
  const { route } = useRoute();
  const status = statusOf(document, stepPaths(step), assumed);
  const target =
    step.section === 'changes'
      ? { ...route, page: 'ledger' as const }
      : { ...route, page: 'boat' as const, section: step.section };
  return (
    <div class="step">
      <h3>
        {number}. {step.title} <small class={`status ${status}`}>{STATUS_WORDS[status]}</small>
      </h3>
      <p>{reworded(step.how)}</p>
      <p class="about">
        Accuracy: {reworded(step.exact)}. Time: {step.time}. If left out: {reworded(step.leftOut)}.
      </p>
      <p>
        <a href={hashOf(target)}>{status === 'yours' ? 'See or change it' : 'Enter it'}</a>
      </p>
    </div>
  );
}

const STATUS_WORDS = { yours: 'yours', assumed: 'assumed so far', empty: 'not entered' } as const;
