/** The heel that is looked at, by slider, and how she lies and rights there. */
import type { ComponentChildren } from 'preact';
import type { ConditionResult } from '../contract.ts';
import { useBoat } from '../session/context.tsx';
import { nextWords, underWords } from '../shared/answer/criteria.ts';
import { mapping, numberOr } from '../shared/boat/document.ts';
import type { OpeningNow } from '../shared/boat/heeled.ts';
import { sinkageAt, trimAt } from '../shared/boat/level.ts';
import {
  type At,
  FILLED,
  type Filled,
  filledWords,
  readBetween,
  valuesAt,
} from '../shared/boat/levers.ts';
import type { Line } from '../shared/explain/opened.tsx';
import { Opens } from '../shared/explain/opens.tsx';
import { heelWords, number, signed, sinkWords, trimWords } from '../shared/words/numbers.ts';
import { plainWords, title } from '../shared/words/plain-words.ts';
import { outwards, type Plane } from './plot.ts';

interface Props {
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
  readonly ends: Plane['ends'];
  readonly heel: number;
  readonly setHeel: (heel: number) => void;
  /** How she lies there; undefined where she goes over her end first. */
  readonly held: At | undefined;
  /** Her lever where her wells spill and fill at each heel. */
  readonly filled: Filled | undefined;
  readonly openings: readonly OpeningNow[];
  readonly summary: string;
}

const FINEST = 0.001;

export function HeelBar(props: Props) {
  const { now, before, ends, heel, setHeel, held, filled, openings, summary } = props;
  const { working } = useBoat();
  const out = outwards(ends);
  const old = before?.righting_levers ? valuesAt(before.righting_levers, heel) : undefined;
  const length = working.profile.length_waterline_m;
  return (
    <div class="heel-bar">
      <label>
        <span>heel</span>
        <input
          type="range"
          min={out * ends[0]}
          max={out * ends[1]}
          step={1}
          value={out * heel}
          aria-valuetext={summary}
          onInput={(e) => setHeel(out * e.currentTarget.valueAsNumber + 0)}
        />
      </label>
      <dl class="readout" aria-label="At this heel">
        {rowsOf(heel, { held, filled, old }, length).map(([name, value, from = []]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              <Read name={name} heel={heel} from={from} now={now} before={before}>
                {value}
              </Read>
            </dd>
          </div>
        ))}
      </dl>
      {held && (
        <p class="under-water">
          {underWords(openings)} {nextWords(openings)}
        </p>
      )}
    </div>
  );
}

/** Name, words, and columns of her curves that it is read from, of the refit unless said. */
type Row = readonly [name: string, words: string, from?: readonly string[]];
const FILLED_FROM = ['wells_full gz_m', 'wells_full water_kg'];

interface ReadProps {
  readonly name: string;
  readonly heel: number;
  readonly from: readonly string[];
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
  readonly children: ComponentChildren;
}

/** A value of the readout, which opens at the heels that it is read between. */
function Read({ name, heel, from, now, before, children }: ReadProps) {
  const rows = from.flatMap((column) => linesOf(column, heel, now, before));
  if (rows.length === 0) return <>{children}</>;
  const meaning =
    'Of the curve that is worked out heel by heel, and straight between two of its heels.';
  const explained = { title: `${title(name)} at ${heelWords(heel, 1)}`, meaning, rows };
  return <Opens explained={explained}>{children}</Opens>;
}

function linesOf(
  column: string,
  heel: number,
  now: ConditionResult,
  before: ConditionResult | undefined,
): readonly Line[] {
  const [key = '', of = ''] = column.split(' ').toReversed();
  const boat = of === 'as_found' ? before : now;
  const curve = of === 'wells_full' ? 'wells_full' : 'righting_levers';
  const heels = boat?.[curve]?.heel_deg;
  if (!boat || !heels) return [];
  const values = mapping(boat[curve])[key];
  const unit = /_([a-z]+)$/.exec(key)?.[1] ?? '';
  const words = plainWords(key.replace(/_(m|deg|kg)$/, ''))
    .replace('gz', 'GZ')
    .replace('plus minus', '±');
  const whose = of === 'as_found' ? 'as found, ' : '';
  return readBetween(heels, heel).map((i) => [
    `${whose}${words} at ${number(heels[i] ?? NaN, 0.1)}°`,
    `${number(Array.isArray(values) ? numberOr(values[i], NaN) : NaN, FINEST)} ${unit.replace('deg', '°')}`,
    `conditions.${boat.id}.${boat.stage}.${curve}.${key}.${i}`,
  ]);
}

function rowsOf(
  heel: number,
  { held, filled, old }: Pick<Props, 'held' | 'filled'> & { readonly old: At | undefined },
  length: number,
): readonly Row[] {
  const named = ['heel', heelWords(heel, 1)] as const;
  if (!held) return [named, ['righting lever GZ', 'none: she goes over her end']];
  const metres = (lever: number) => `${number(lever, FINEST)} m`;
  const band = number(Math.max(FINEST, held.plusMinus), FINEST);
  const rows: Row[] = [
    named,
    ['righting lever GZ', `${number(held.gz, FINEST)} ± ${band} m`, ['gz_m', 'gz_plus_minus_m']],
    ['house not counted', metres(held.bare), ['gz_without_house_m']],
    ...(filled ? [[FILLED, filledWords(filled), FILLED_FROM] as const] : []),
    ['trim', trimWords(trimAt(held, length)), ['trim_deg']],
    ['midships', sinkWords(sinkageAt(held, length) * 1000), ['water_offset_m', 'trim_deg']],
  ];
  if (!old) return rows;
  const change = (held.gz - old.gz) * 1000;
  return [
    ...rows,
    ['GZ as found', metres(old.gz), ['as_found gz_m']],
    ['change', `${signed(change, 1)} mm`, ['gz_m', 'as_found gz_m']],
  ];
}
