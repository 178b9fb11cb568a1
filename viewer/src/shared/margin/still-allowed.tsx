/** Weight still allowed, and the ratios owners quote: asked for when they are opened. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import type {
  LimitLineResult,
  LimitMargin,
  LoadedDot,
  TradeResult,
  WeightMarginResult,
} from '../../contract.ts';
import * as api from '../../session/api.ts';
import { useBoat, useRoute, useSnapshot } from '../../session/context.tsx';
import { ScrollBox } from '../feedback/scroll-box.tsx';
import { useSize } from '../feedback/use-size.ts';
import { number, quantity, signedQuantity } from '../words/numbers.ts';
import { lastKey, plainWords, title } from '../words/plain-words.ts';
import { reworded } from '../words/sentences.ts';
import { timesOf, unitSign } from '../words/units.ts';
import { type Chart, chartOf, limitPath } from './weight-margin.ts';

const HEIGHT = 300;

export function StillAllowed() {
  const [open, setOpen] = useState(false);
  const asked = useAsked(open, api.allowance);
  return (
    <details class="page still-allowed" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>
        <h2>Weight margin</h2>
      </summary>
      {asked.words && <p class="waiting">{asked.words}</p>}
      {asked.answer && <Limits asked={asked.answer} />}
    </details>
  );
}

export function Ratios() {
  const [open, setOpen] = useState(false);
  const asked = useAsked(open, api.ratios);
  return (
    <details class="page ratios" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>
        <h2>Trade ratios</h2>
      </summary>
      {asked.words && <p class="waiting">{asked.words}</p>}
      {asked.answer && <RatioTable allowed={asked.answer} />}
    </details>
  );
}

interface Asked<Answer> {
  readonly answer?: Answer;
  /** The words where there is no answer yet, or none for this boat. */
  readonly words?: string;
}

/** An answer about the boat as she is: asked for once she has settled, and anew after an edit. */
function useAsked<Answer>(
  open: boolean,
  ask: (refit: string, option: string | null, signal: AbortSignal) => Promise<Answer>,
): Asked<Answer> {
  const { working } = useBoat();
  const { route } = useRoute();
  const { busy } = useSnapshot();
  const [allowed, setAsked] = useState<Asked<Answer>>({});
  useEffect(() => {
    if (!open || busy) return undefined;
    const stop = new AbortController();
    setAsked(({ answer }) => (answer ? { answer } : { words: 'Calculating…' }));
    ask(working.refit, route.option, stop.signal).then(
      (answer) => setAsked({ answer }),
      (error: unknown) => {
        if (!stop.signal.aborted)
          setAsked({ words: error instanceof Error ? error.message : String(error) });
      },
    );
    return () => stop.abort();
  }, [open, busy, working.refit, working.edit, route.option]);
  return allowed;
}

function Limits({ asked }: { asked: WeightMarginResult }) {
  const { condition } = useBoat();
  const dot = asked.dots.find((one) => one.condition === condition);
  const rooms = asked.rooms.filter((room) => room.condition === condition);
  return (
    <>
      {rooms.length === 0 && (
        <p class="about">
          {title(condition)} is left out here: choose a condition in which no well is flooded.
        </p>
      )}
      <ul class="rooms">
        {rooms.map((room) => (
          <li key={room.place}>{reworded(room.sentence)}</li>
        ))}
      </ul>
      <LimitChart allowed={asked} chosen={dot} />
      {dot && <RoomTable result={asked} dot={dot} />}
      <ul class="remarks">
        {asked.remarks.map((remark) => (
          <li key={remark}>{reworded(remark)}</li>
        ))}
      </ul>
    </>
  );
}

interface LimitsProps {
  readonly allowed: WeightMarginResult;
  readonly chosen: LoadedDot | undefined;
}

function LimitChart({ allowed, chosen }: LimitsProps) {
  const [sheet, width] = useSize<HTMLDivElement>(700);
  const chart = useMemo(() => chartOf(allowed, width, HEIGHT), [allowed, width]);
  const nearest = chosen?.margins[0]?.id;
  const doubtful = allowed.lines.filter((line) => !line.can_be_judged);
  const sure = allowed.lines.filter((line) => line.can_be_judged);
  return (
    <div ref={sheet} class="limit-chart">
      <svg
        width={width}
        height={chart.height}
        viewBox={`0 0 ${width} ${chart.height}`}
        role="img"
        aria-label="Highest centre of gravity each criterion allows, over displacement; each condition a dot. The same stands in the table below."
      >
        <Ruled chart={chart} />
        {[...doubtful, ...sure].map((line) => (
          <path
            key={line.id}
            class={`limit ${line.can_be_judged ? '' : 'doubtful'} ${line.id === nearest ? 'nearest' : ''}`}
            d={limitPath(chart, line)}
          >
            <title>{line.title}</title>
          </path>
        ))}
        {allowed.dots.map((dot) => (
          <Dot key={dot.condition} chart={chart} dot={dot} chosen={dot === chosen} />
        ))}
      </svg>
      <p class="plot-key">
        <Key look="" words="limit of a criterion" />
        {nearest && <Key look="nearest" words="governing limit" />}
        <Key look="doubtful" words="to be confirmed" />
        <span>● a loading condition, G raised by its free surfaces</span>
      </p>
    </div>
  );
}

const Key = ({ look, words }: { look: string; words: string }) => (
  <span>
    <svg viewBox="0 0 28 8" aria-hidden="true">
      <path class={`limit ${look}`} d="M0,4H28" />
    </svg>{' '}
    {words}
  </span>
);

function Dot({ chart, dot, chosen }: { chart: Chart; dot: LoadedDot; chosen: boolean }) {
  const [x, y] = [chart.x(dot.displacement_kg), chart.y(dot.vcg_fluid_m)];
  const left = x > chart.width * 0.75;
  return (
    <g class={chosen ? 'dot chosen' : 'dot'}>
      <circle cx={x} cy={y} r={chosen ? 5 : 3.5} />
      {chosen && (
        <text x={left ? x - 8 : x + 8} y={y + 14} text-anchor={left ? 'end' : 'start'}>
          {plainWords(dot.condition)}
        </text>
      )}
    </g>
  );
}

function Ruled({ chart }: { chart: Chart }) {
  const { edges: edge } = chart;
  return (
    <g class="ruled">
      {chart.heights.map((z) => (
        <g key={z}>
          <path d={`M${edge[0]},${chart.y(z).toFixed(1)}H${edge[1]}`} />
          <text x={edge[0] - 6} y={chart.y(z) + 4} text-anchor="end">
            {number(z * timesOf('m'), 0.01)}
          </text>
        </g>
      ))}
      {chart.masses.map((kg) => (
        <text key={kg} x={chart.x(kg)} y={chart.height - 18} text-anchor="middle">
          {number(kg * timesOf('kg'), 1)}
        </text>
      ))}
      <text x={edge[0] + 4} y="12">
        VCG above the design waterline, {unitSign('m')}
      </text>
      <text x={edge[1]} y={chart.height - 4} text-anchor="end">
        displacement, {unitSign('kg')}
      </text>
    </g>
  );
}

function RoomTable({ result, dot }: { result: WeightMarginResult; dot: LoadedDot }) {
  return (
    <ScrollBox label="Limits of the centre of gravity">
      <table class="angles">
        <thead>
          <tr>
            <th scope="col">
              criterion, {plainWords(dot.condition)}: G at {quantity(dot.vcg_fluid_m, 'm', 0.005)}
            </th>
            <th scope="col" class="n">
              highest G
            </th>
            <th scope="col" class="n">
              left
            </th>
            <th scope="col">grade</th>
          </tr>
        </thead>
        <tbody>
          {dot.margins.flatMap((margin) => {
            const line = result.lines.find((one) => one.id === margin.id);
            return line ? [<Margin key={line.id} line={line} margin={margin} />] : [];
          })}
        </tbody>
      </table>
    </ScrollBox>
  );
}

function Margin({ line, margin }: { line: LimitLineResult; margin: LimitMargin }) {
  return (
    <tr>
      <th scope="row">
        {line.title} <small title={line.source}>{documentOf(line.source)}</small>
      </th>
      <td class="n">{quantity(margin.limit_m, 'm', 0.005)}</td>
      <td class="n">{signedQuantity(margin.left_mm, 'mm', 5)}</td>
      <td>{line.can_be_judged ? line.grade : `${line.grade}, to be confirmed`}</td>
    </tr>
  );
}

/** The document of a source: what stands before its edition and clause. */
const documentOf = (source: string) => source.split(',')[0];

function figure(value: number | null): string {
  if (value === null) return '—';
  if (value >= 100) return number(value, 1);
  return number(value, value >= 10 ? 0.1 : 0.01);
}

const SAID_ABOVE = 'A comparison between boats, not a measure of safety.';

const RatioTable = ({ allowed }: { allowed: TradeResult }) => (
  <>
    <p class="about">
      {title(allowed.condition)}. Comparisons between boats, not measures of safety; the figures
      depend on the units they are calculated in.
    </p>
    <ScrollBox label="Trade ratios table">
      <table class="angles">
        <thead>
          <tr>
            <th scope="col">ratio</th>
            <th scope="col" class="n">
              as found
            </th>
            <th scope="col" class="n">
              refit
            </th>
            <th scope="col">formula</th>
          </tr>
        </thead>
        <tbody>
          {allowed.ratios.map((one) => (
            <tr key={one.id}>
              <th scope="row">
                {one.title} <small>{one.without || one.usual.replace(SAID_ABOVE, '')}</small>
              </th>
              <td class="n">{figure(one.as_found)}</td>
              <td class="n">{figure(one.refit)}</td>
              <td>
                {one.formula} <small>{one.made_in}</small>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollBox>
    {allowed.ballast_from.length > 0 && (
      <p class="about">
        Counted as ballast:{' '}
        {allowed.ballast_from.map((path) => plainWords(lastKey(path))).join(', ')}.
      </p>
    )}
  </>
);
