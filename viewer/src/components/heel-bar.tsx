/** The heel that is looked at, by slider, and what the curves say there. */
import type { ConditionResult } from '../contract.ts';
import { valuesAt } from '../levers.ts';
import { heelWords, number, signed, stepFor } from '../numbers.ts';

interface Props {
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
  readonly heel: number;
  readonly setHeel: (heel: number) => void;
}

const FINEST = 0.001;

export function HeelBar({ now, before, heel, setHeel }: Props) {
  return (
    <div class="heel-bar">
      <label>
        <span>heel</span>
        <input
          type="range"
          min={-180}
          max={180}
          step={1}
          value={heel}
          aria-valuetext={heelWords(heel, 1)}
          onInput={(e) => setHeel(Number(e.currentTarget.value))}
        />
      </label>
      <dl class="readout" aria-label="Levers at this heel">
        {rowsOf(now, before, heel).map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

function rowsOf(
  now: ConditionResult,
  before: ConditionResult | undefined,
  heel: number,
): readonly (readonly [string, string])[] {
  const at = now.righting_levers ? valuesAt(now.righting_levers, heel) : undefined;
  const old = before?.righting_levers ? valuesAt(before.righting_levers, heel) : undefined;
  const named = ['heel', heelWords(heel, 1)] as const;
  if (!at) return [named, ['lever', 'none: she goes over her end']];
  const metres = (lever: number) => `${number(lever, FINEST)} m`;
  const rows: (readonly [string, string])[] = [
    named,
    ['lever', metres(at.gz)],
    ['±', metres(Math.max(FINEST, at.plusMinus))],
    ['house not counted', metres(at.bare)],
  ];
  if (!old) return rows;
  const change = (at.gz - old.gz) * 1000;
  return [
    ...rows,
    ['as found', metres(old.gz)],
    ['change', `${signed(change, stepFor(0, 1))} mm`],
  ];
}
