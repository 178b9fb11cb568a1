/** The curve of righting levers and the boat beside it, heeled together. */
import { useMemo, useRef, useState } from 'preact/hooks';
import type { ConditionResult } from '../contract.ts';
import { useBoat } from '../session/context.tsx';
import { underWords } from '../shared/answer/criteria.ts';
import { FILLED, filledWords, heldAt, toSide } from '../shared/boat/levers.ts';
import { Term } from '../shared/explain/term.tsx';
import { download, standalone } from '../shared/files/download.ts';
import { ExportButton } from '../shared/files/export-button.tsx';
import { heelWords, quantity } from '../shared/words/numbers.ts';
import { HeeledBoat } from './heeled-boat.tsx';
import { FlagList } from './levers/flag-list.tsx';
import { HeelBar } from './levers/heel-bar.tsx';
import { LeverPlot } from './levers/lever-plot.tsx';
import { type Also, ENDS, type Flag, type Span, sidesOf } from './levers/plot.ts';
import { PlotKey } from './levers/plot-key.tsx';
import { usePlay } from './play.ts';

interface LeverBoats {
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
}

const FIRST_HEEL = 30;
const SPANS: readonly Span[] = ['port', 'starboard', 'circle'];
const spanWords = (span: Span) => (span === 'circle' ? 'whole circle' : `to ${span}`);

export function Levers({ now, before }: LeverBoats) {
  const [span, setSpan] = useState<Span>(now.worse_side ?? 'starboard');
  const [heel, setHeel] = useState(() => toSide(FIRST_HEEL, sidesOf(span)[0] ?? 'starboard'));
  const [also, setAlso] = useState<Also>({ bareBefore: false, dry: false });
  const plot = useRef<HTMLDivElement>(null);
  const { held, summary } = useHeld(now, heel);
  const show = (next: Span) => {
    play.stop();
    setSpan(next);
    if (next !== 'circle') setHeel(toSide(Math.abs(heel), next));
  };
  const [least, most] = ENDS[span].toSorted((a, b) => a - b);
  const play = usePlay(now, { heel, side: sidesOf(span).at(-1) ?? 'starboard', setHeel });
  const [asked, ask] = useState<Flag>();
  const byHand = (to: number) => {
    play.stop();
    setHeel(Math.min(most ?? 180, Math.max(least ?? -180, to)));
  };
  return (
    <section class="levers" aria-label="Righting levers">
      <div class="levers-head">
        <h2>
          Righting levers <Term name="GZ" />
        </h2>
        <fieldset class="segments">
          <legend class="unseen">Heels shown</legend>
          {SPANS.map((one) => (
            <button key={one} type="button" aria-pressed={one === span} onClick={() => show(one)}>
              {spanWords(one)}
            </button>
          ))}
        </fieldset>
        <Exports now={now} plot={plot} />
      </div>
      <div class="plot-and-boat">
        <div ref={plot}>
          <LeverPlot
            now={now}
            before={before}
            span={span}
            heel={heel}
            setHeel={byHand}
            summary={summary}
            also={also}
            asked={asked}
          />
          <PlotKey now={now} before={before} also={also} />
          <p class="also">
            {before && (
              <Tick
                words="as found, without deckhouse buoyancy"
                on={also.bareBefore}
                turn={(bareBefore) => setAlso({ ...also, bareBefore })}
              />
            )}
            {now.coaming_angle_deg !== null && (
              <Tick words="cockpit dry" on={also.dry} turn={(dry) => setAlso({ ...also, dry })} />
            )}
          </p>
          <FlagList now={now} span={span} setHeel={byHand} ask={ask} />
        </div>
        {held ? (
          <HeeledBoat now={now} held={held} turn={byHand} play={play} />
        ) : (
          <p class="about">She tips end over end before this heel: she cannot be held here.</p>
        )}
      </div>
      <HeelBar
        before={before}
        ends={ENDS[span]}
        heel={heel}
        setHeel={byHand}
        held={held}
        summary={summary}
      />
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
