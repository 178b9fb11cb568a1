/** The Stability page: righting levers before and after, and what follows from them. */
import { useLayoutEffect, useMemo } from 'preact/hooks';
import type { ConditionResult, Working } from '../contract.ts';
import { useBoat, useEditing, useKnown, useRoute, useSnapshot } from '../session/context.tsx';
import { inShort } from '../shared/answer/criteria.ts';
import { bothBoats } from '../shared/answer/figures.ts';
import { floatsIn, unansweredIn } from '../shared/answer/floats.ts';
import { stabilitySentences } from '../shared/answer/stability-sentence.ts';
import { Ratios, StillAllowed } from '../shared/margin/still-allowed.tsx';
import { Panel } from '../shared/panel/panel.tsx';
import { title } from '../shared/words/plain-words.ts';
import { Angles } from './angles.tsx';
import { Cockpits } from './cockpits.tsx';
import { ConditionTable } from './condition-table.tsx';
import { CriteriaTable } from './criteria-table.tsx';
import { FloodingByRuleTable } from './flooding-by-rule.tsx';
import { Levers } from './levers-section.tsx';
import { OpeningsTable } from './openings-table.tsx';
import { Sampled, SampledShort } from './sampled.tsx';
import { WeighNext } from './weigh-next.tsx';

export function StabilityPage() {
  const { working, condition } = useBoat();
  const { session } = useEditing();
  const { full } = useSnapshot();
  useLayoutEffect(() => {
    session.levers = true;
    return () => {
      session.levers = false;
    };
  }, [session]);
  const rows = useMemo(() => heeledRows(working, full), [working, full]);
  const { before, after } = bothBoats(rows, condition);
  const isChanged = working.assessment.changes.length > 0;
  const silent = unansweredIn(working.assessment, condition);
  const now = silent.some((row) => row.stage === 'refit') ? after : (after ?? before);
  const isLate =
    working.partial && now !== undefined && !floatsIn(working.assessment).includes(now);
  return (
    <div class="stability">
      <div class="stability-middle" aria-busy={isLate}>
        <OneCondition
          now={now}
          isLate={isLate}
          before={isChanged ? after && before : undefined}
          isFinal={silent.length > 0}
        />
        <section class="page" aria-label="Loading conditions">
          <h2>All loading conditions</h2>
          {working.partial && <p class="about">Those not chosen follow in a moment.</p>}
          <ConditionTable rows={isChanged ? rows : rows.filter(({ stage }) => stage === 'refit')} />
        </section>
        <OfTheWorkingCopy />
      </div>
      <div class="stability-side">
        <Changes />
        <Panel />
      </div>
    </div>
  );
}

interface OneProps {
  readonly now: ConditionResult | undefined;
  /** Whether all of it is from before the drag, and follows when the pointer rests. */
  readonly isLate: boolean;
  readonly before: ConditionResult | undefined;
  readonly isFinal: boolean;
}

/** The chosen condition: in short, her curve, what is judged by it, and every angle. */
function OneCondition({ now, before, isLate, isFinal }: OneProps) {
  const tables = useMemo(
    () => now?.held && <AnglesAndOpenings now={now} before={before} />,
    [now, before],
  );
  if (!now?.held)
    return (
      <>
        <NoLevers why={now?.not_followed ?? ''} isFinal={isFinal} />
        <Cockpits />
      </>
    );
  return (
    <>
      <InShort now={now} before={before} isLate={isLate} />
      <Levers now={now} before={before} />
      {now.righting_levers && <Criteria now={now} before={before} />}
      <Cockpits />
      {tables}
    </>
  );
}

function Criteria({ now, before }: Boats) {
  const { condition } = useBoat();
  return (
    <section class="page of-levers" aria-label="Criteria">
      <h2>Criteria, {title(condition).toLowerCase()}</h2>
      <CriteriaTable now={now} before={before} />
    </section>
  );
}

/** What only a server works out, of the boat as the owner has her now. */
function OfTheWorkingCopy() {
  const { visitor, inFile } = useKnown();
  const { route } = useRoute();
  if (inFile || visitor.role !== 'owner' || route.revision !== undefined) return null;
  return (
    <>
      <StillAllowed />
      <Ratios />
    </>
  );
}

/** Why there is no curve, or that it is on its way. */
function NoLevers({ why, isFinal }: { why: string; isFinal: boolean }) {
  return why || isFinal ? (
    <p class="about">No righting levers. {why}</p>
  ) : (
    <p class="waiting">Calculating righting levers…</p>
  );
}

/** Every float; while an answer has no levers of one, as it was last answered with them. */
function heeledRows(working: Working, full: Working | undefined): readonly ConditionResult[] {
  const fresh = floatsIn(working.assessment);
  const known = full ? floatsIn(full.assessment) : fresh;
  const lost = (old: ConditionResult) =>
    unansweredIn(working.assessment, old.id).some((row) => row.stage === old.stage);
  return known
    .filter((old) => !lost(old))
    .map((old) => {
      const row = fresh.find((one) => one.id === old.id && one.stage === old.stage);
      return row?.held || (row?.righting_levers && !old.held) ? row : old;
    });
}

interface Boats {
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
}

/** What she can take and what limits it, before any figure. */
function InShort({ now, before, isLate }: Boats & Pick<OneProps, 'isLate'>) {
  const { working } = useBoat();
  const wells = working.assessment.cockpits.filter(({ stage }) => stage === now.stage);
  const judged = [
    ...now.criteria,
    ...wells.flatMap(({ criteria }) => criteria.map((one) => ({ ...one, cockpit: true }))),
  ];
  // where water comes in ends what she can take: as large as how far she rights herself
  const [rights, floods, ...more] = stabilitySentences(now, before, judged);
  return (
    <section class="stability-answer" aria-label="Stability in short">
      <p>
        <span class="in-condition">
          {title(now.id)}
          {isLate && ' before this drag'}:
        </span>{' '}
        <b>
          {rights} {floods}
        </b>{' '}
        {more.join(' ')}
      </p>
      <SampledShort boats={before ? [now, before] : [now]} />
    </section>
  );
}

/** Every angle beside those without which it says too little, and every opening. */
const AnglesAndOpenings = ({ now, before }: Boats) => (
  <section class="page of-levers" aria-label="Angles and openings">
    <h2>Angles and openings, {title(now.id).toLowerCase()}</h2>
    <p class="lead">{inShort(now, before)}</p>
    <div class="angles-and-openings">
      <Angles now={now} before={before} />
      <div>
        <h3>Openings</h3>
        <OpeningsTable now={now} />
        <FloodingByRuleTable now={now} />
        <WeighNext now={now} />
      </div>
    </div>
    <Sampled boats={before ? [now, before] : [now]} />
  </section>
);

/** Which change the form beside the curve is about. */
function Changes() {
  const { working } = useBoat();
  const { route, go } = useRoute();
  const { changes, parts } = working.assessment;
  const pick = (change: string) =>
    go({
      picked: change
        ? { change, part: parts.find((part) => part.change === change)?.id }
        : undefined,
    });
  return (
    <label class="change-choice">
      <span>change</span>
      <select value={route.picked?.change ?? ''} onChange={(e) => pick(e.currentTarget.value)}>
        <option value="">Whole refit</option>
        {changes.map(({ id }) => (
          <option key={id} value={id}>
            {title(id)}
          </option>
        ))}
      </select>
    </label>
  );
}
