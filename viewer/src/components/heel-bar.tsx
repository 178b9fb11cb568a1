/** The heel that is looked at, by slider, and how she lies and rights there. */
import { useApp } from '../app-context.ts';
import type { ConditionResult } from '../contract.ts';
import { nextWords, underWords } from '../criteria.ts';
import type { OpeningNow } from '../heeled.ts';
import { sinkageAt, trimAt } from '../level.ts';
import { valuesAt, type At, type Filled } from '../levers.ts';
import { heelWords, number, signed, sinkWords, trimWords } from '../numbers.ts';
import { outwards, type Plane } from '../plot.ts';

interface Props {
  readonly before: ConditionResult | undefined;
  readonly ends: Plane['ends'];
  readonly heel: number;
  readonly setHeel: (heel: number) => void;
  /** How she lies there; undefined where she goes over her end first. */
  readonly held: At | undefined;
  /** Her lever where her wells spill and fill at each heel. */
  readonly filled: Filled | undefined;
  readonly openings: readonly OpeningNow[];
  readonly said: string;
}

const FINEST = 0.001;
export const FILLED = 'wells spilling and filling at each heel';
export const filledWords = ({ gz, water }: Filled) =>
  `${number(gz, FINEST)} m with ${number(water, 1)} kg in them`;

export function HeelBar(props: Props) {
  const { before, ends, heel, setHeel, held, filled, openings, said } = props;
  const { working } = useApp();
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
          aria-valuetext={said}
          onInput={(e) => setHeel(out * e.currentTarget.valueAsNumber + 0)}
        />
      </label>
      <dl class="readout" aria-label="At this heel">
        {rowsOf(heel, { held, filled, old }, length).map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
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

function rowsOf(
  heel: number,
  { held, filled, old }: Pick<Props, 'held' | 'filled'> & { readonly old: At | undefined },
  length: number,
): readonly (readonly [string, string])[] {
  const named = ['heel', heelWords(heel, 1)] as const;
  if (!held) return [named, ['righting lever GZ', 'none: she goes over her end']];
  const metres = (lever: number) => `${number(lever, FINEST)} m`;
  const band = number(Math.max(FINEST, held.plusMinus), FINEST);
  const rows: (readonly [string, string])[] = [
    named,
    ['righting lever GZ', `${number(held.gz, FINEST)} ± ${band} m`],
    ['house not counted', metres(held.bare)],
    ...(filled ? [[FILLED, filledWords(filled)] as const] : []),
    ['trim', trimWords(trimAt(held, length))],
    ['midships', sinkWords(sinkageAt(held, length) * 1000)],
  ];
  if (!old) return rows;
  const change = (held.gz - old.gz) * 1000;
  return [...rows, ['GZ as found', metres(old.gz)], ['change', `${signed(change, 1)} mm`]];
}
