/** The Stability page: righting levers before and after, and what can be said by them. */
import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ConditionResult, Working } from '../contract.ts';
import { useBoat, useEditing, useKnown, useRoute, useSnapshot } from '../session/context.tsx';
import { inShort, underWords } from '../shared/answer/criteria.ts';
import { bothBoats } from '../shared/answer/figures.ts';
import { floatsIn, unansweredIn } from '../shared/answer/floats.ts';
import { FILLED, filledWords, heldAt, toSide } from '../shared/boat/levers.ts';
import { download, standalone } from '../shared/files/download.ts';
import { ExportButton } from '../shared/files/export-button.tsx';
import { Panel } from '../shared/panel/panel.tsx';
import { heelWords, quantity } from '../shared/words/numbers.ts';
import { title } from '../shared/words/plain-words.ts';
import { Angles } from './angles.tsx';
import { Cockpits } from './cockpits.tsx';
import { ConditionTable } from './condition-table.tsx';
import { CriteriaTable } from './criteria-table.tsx';
import { FloodingByRuleTable } from './flooding-by-rule.tsx';
import { HeeledBoat } from './heeled-boat.tsx';
import { HeelBar } from './levers/heel-bar.tsx';
import { LeverPlot } from './levers/lever-plot.tsx';
import { type Also, ENDS, type Span, sidesOf } from './levers/plot.ts';
import { PlotKey } from './levers/plot-key.tsx';
import { Ratios, StillAllowed } from './margin/still-allowed.tsx';
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
  const silent = unansweredIn(working.assessment, condition);
  const now = silent.some((row) => row.stage === 'refit') ? after : (after ?? before);
  return (
    <div class="stability">
      <div class="stability-middle">
        {now?.held ? (
          <Levers now={now} before={after && before} />
        ) : (
          <NoLevers why={now?.not_followed ?? ''} isFinal={silent.length > 0} />
        )}
        <section class="page" aria-label="Loading conditions">
          <h2>All loading conditions</h2>
          {working.partial && <p class="about">Those not chosen follow in a moment.</p>}
          <ConditionTable rows={rows} />
        </section>
        {now?.righting_levers && <Criteria now={now} before={after && before} />}
        <Cockpits />
        <OfTheWorkingCopy />
      </div>
      <div class="stability-side">
        <Changes />
        <Panel />
      </div>
    </div>
  );
}

function Criteria({ now, before }: Boats) {
  const { condition } = useBoat();
  return (
    <section class="page" aria-label="Criteria">
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
    <p class="waiting">Her levers are being worked out…</p>
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

const FIRST_HEEL = 30;
const SPANS: readonly Span[] = ['port', 'starboard', 'circle'];
const spanWords = (span: Span) => (span === 'circle' ? 'whole circle' : `to ${span}`);

function Levers({ now, before }: Boats) {
  const [span, setSpan] = useState<Span>(now.worse_side ?? 'starboard');
  const [heel, setHeel] = useState(() => toSide(FIRST_HEEL, sidesOf(span)[0] ?? 'starboard'));
  const [also, setAlso] = useState<Also>({ bareBefore: false, dry: false });
  const plot = useRef<HTMLDivElement>(null);
  const { held, summary } = useHeld(now, heel);
  const show = (next: Span) => {
    setSpan(next);
    if (next !== 'circle') setHeel(toSide(Math.abs(heel), next));
  };
  const tables = useMemo(() => <AnglesAndOpenings now={now} before={before} />, [now, before]);
  return (
    <section class="levers" aria-label="Righting levers">
      <div class="levers-head">
        <h2>Righting levers</h2>
        <fieldset class="segments">
          <legend class="unseen">Heels shown</legend>
          {SPANS.map((one) => (
            <button key={one} type="button" aria-pressed={one === span} onClick={() => show(one)}>
              {spanWords(one)}
            </button>
          ))}
        </fieldset>
        {before && (
          <Tick
            words="as found, house not counted"
            on={also.bareBefore}
            turn={(bareBefore) => setAlso({ ...also, bareBefore })}
          />
        )}
        {now.coaming_angle_deg !== null && (
          <Tick words="cockpit dry" on={also.dry} turn={(dry) => setAlso({ ...also, dry })} />
        )}
        <Exports now={now} plot={plot} />
      </div>
      <p class="lead">{inShort(now, before)}</p>
      <SampledShort boats={before ? [now, before] : [now]} />
      <div class="plot-and-boat">
        <div ref={plot}>
          <LeverPlot
            now={now}
            before={before}
            span={span}
            heel={heel}
            setHeel={setHeel}
            summary={summary}
            also={also}
          />
          <PlotKey now={now} before={before} also={also} />
        </div>
        {held ? (
          <HeeledBoat now={now} held={held} />
        ) : (
          <p class="about">She goes over her end before this heel: she cannot be held here.</p>
        )}
      </div>
      <HeelBar
        before={before}
        ends={ENDS[span]}
        heel={heel}
        setHeel={setHeel}
        held={held}
        summary={summary}
      />
      {tables}
    </section>
  );
}

/** How she lies at the heel that is looked at, and that in words. */
function useHeld(now: ConditionResult, heel: number) {
  return useMemo(() => {
    const held = heldAt(now, heel);
    if (!held) return { held, summary: `${heelWords(heel, 1)}, no lever` };
    const filled = filledWords(held);
    const wells = filled && ` With ${FILLED} ${filled}.`;
    const lever = `righting lever ${quantity(held.gz, 'm', 0.001)}`;
    return { held, summary: `${heelWords(heel, 1)}, ${lever}.${wells} ${underWords(held)}` };
  }, [now, heel]);
}

const AnglesAndOpenings = ({ now, before }: Boats) => (
  <>
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
  </>
);

interface TickProps {
  readonly words: string;
  readonly on: boolean;
  readonly turn: (on: boolean) => void;
}

const Tick = ({ words, on, turn }: TickProps) => (
  <label class="tick">
    <input type="checkbox" checked={on} onChange={(e) => turn(e.currentTarget.checked)} />
    {words}
  </label>
);

interface ExportsProps {
  readonly now: ConditionResult;
  readonly plot: { readonly current: HTMLDivElement | null };
}

function Exports({ now, plot }: ExportsProps) {
  const { working } = useBoat();
  const drawing = () => {
    const svg = plot.current?.querySelector<SVGSVGElement>('svg[data-levers]');
    if (!svg) return;
    const paper = getComputedStyle(document.documentElement).backgroundColor;
    const name = `${working.refit}-${now.id}-levers.svg`;
    download(name, 'image/svg+xml', standalone(svg, paper));
  };
  return (
    <span class="exports">
      <button type="button" class="quiet" onClick={drawing}>
        Save SVG
      </button>
      <ExportButton name="levers.csv" condition={now.id}>
        Save CSV
      </ExportButton>
    </span>
  );
}

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
        <option value="">all together</option>
        {changes.map(({ id }) => (
          <option key={id} value={id}>
            {title(id)}
          </option>
        ))}
      </select>
    </label>
  );
}
