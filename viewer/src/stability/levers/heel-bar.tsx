/** The heel that is looked at, by slider, and how she lies and rights there. */
import type { ComponentChildren } from 'preact';
import type { ConditionResult } from '../../contract.ts';
import { nextWords, underWords } from '../../shared/answer/criteria.ts';
import {
  FILLED,
  filledWords,
  type Held,
  type HeldColumn,
  heldAt,
} from '../../shared/boat/levers.ts';
import { ExplainButton } from '../../shared/explain/explain-button.tsx';
import type { ExplanationLine } from '../../shared/explain/explanation-card.tsx';
import {
  heelWords,
  quantity,
  signedQuantity,
  sinkWords,
  trimWords,
  withSpread,
} from '../../shared/words/numbers.ts';
import { plainWords, title } from '../../shared/words/plain-words.ts';
import { outwards, type Plane } from './plot.ts';

interface Props {
  readonly before: ConditionResult | undefined;
  readonly ends: Plane['ends'];
  readonly heel: number;
  readonly setHeel: (heel: number) => void;
  /** How she lies there; undefined where she tips end over end first. */
  readonly held: Held | undefined;
  readonly summary: string;
}

const FINEST = 0.001;

export function HeelBar({ before, ends, heel, setHeel, held, summary }: Props) {
  const out = outwards(ends);
  const old = before && heldAt(before, heel);
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
        {rowsOf(heel, held, old).map(([name, value, of, columns = []]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              <Read name={name} of={of} columns={columns}>
                {value}
              </Read>
            </dd>
          </div>
        ))}
      </dl>
      {held && (
        <p class="under-water">
          {underWords(held)} {nextWords(held)}
        </p>
      )}
    </div>
  );
}

/** Name, words, and the boat and the columns that they are read from. */
type HeelRow = readonly [name: string, words: string, of?: Held, columns?: readonly HeldColumn[]];

interface ReadProps {
  readonly name: string;
  readonly of: Held | undefined;
  readonly columns: readonly HeldColumn[];
  readonly children: ComponentChildren;
}

/** A value of the readout, which opens. */
function Read({ name, of, columns, children }: ReadProps) {
  if (!of || columns.length === 0) return <>{children}</>;
  const explained = {
    title: `${title(name)} at ${heelWords(of.heel, 1)}`,
    meaning: 'Held at this heel, free to sink and to trim.',
    rows: columns.map(
      (column): ExplanationLine => [columnWords(column), valueWords(of, column), of.path(column)],
    ),
  };
  return <ExplainButton explained={explained}>{children}</ExplainButton>;
}

const unitOf = (column: HeldColumn): string => /_([a-z]+)$/.exec(column)?.[1] ?? '';

const columnWords = (column: HeldColumn): string =>
  plainWords(column.replace(/_(m|deg|kg|mm)$/, ''))
    .replace('gz', 'GZ')
    .replace('plus minus', '±');

function valueWords({ of }: Held, column: HeldColumn): string {
  const value = of(column);
  return value === null ? '—' : quantity(value, unitOf(column), FINEST);
}

function rowsOf(heel: number, held: Held | undefined, old: Held | undefined): readonly HeelRow[] {
  const named = ['heel', heelWords(heel, 1)] as const;
  if (!held) return [named, ['righting lever GZ', 'none: she tips end over end']];
  const { of } = held;
  const band = Math.max(FINEST, of('gz_plus_minus_m') ?? 0);
  const gz = withSpread(held.gz, band, 'm', FINEST);
  const filled = filledWords(held);
  return [
    named,
    ['righting lever GZ', gz, held, ['gz_m', 'gz_plus_minus_m']],
    ['without deckhouse', metres(of('gz_without_house_m')), held, ['gz_without_house_m']],
    ...(filled ? [[FILLED, filled, held, WELLS] as const] : []),
    ['trim', trimWords(of('trim_mm') ?? 0), held, ['trim_mm', 'trim_deg']],
    ['midships', sinkWords(of('sinkage_mm') ?? 0), held, ['sinkage_mm']],
    ...(old ? compared(held, old) : []),
  ];
}

const WELLS: readonly HeldColumn[] = ['gz_wells_full_m', 'water_in_wells_kg'];

const metres = (lever: number | null): string =>
  lever === null ? '—' : quantity(lever, 'm', FINEST);

/** The lever of the boat as found, and how much it has changed. */
function compared(held: Held, old: Held): readonly HeelRow[] {
  const change = held.of('gz_change_m');
  const words = change === null ? '—' : signedQuantity(1000 * change, 'mm', 1);
  return [
    ['GZ as found', metres(old.gz), old, ['gz_m']],
    ['change', words, held, ['gz_change_m']],
  ];
}
