/** What happens at which heel: flags on the plot of righting levers, the weightiest first. */
import type { ConditionResult } from '../../contract.ts';
import { SIDES, type Side, toSide, vanishing } from '../../shared/boat/levers.ts';
import { quantity } from '../../shared/words/numbers.ts';
import { plainWords } from '../../shared/words/plain-words.ts';
import { type Flag, type Span, sidesOf } from './plot.ts';

/** How many stand on the plot; the others are ticks that say their name when asked. */
const FLAGS_SHOWN = 5;

/** What a range is the smaller of. */
const ENDS_RANGE: readonly string[] = ['vanishes', 'first unclosed opening'];

type NamedFlag = readonly [kind: Flag['kind'], name: string, angle: number | null | undefined];

/** Those of the sides that are shown, the weightiest first; what ends her range is its limit. */
export function flagsOf(now: ConditionResult, span: Span): readonly Flag[] {
  const worse = now.worse_side ?? 'starboard';
  const sides = sidesOf(span).toSorted((a, b) => Number(b === worse) - Number(a === worse));
  const ranks = sides.map((side) => [
    ...mainFlags(now, side).map(flagTo(now, side)),
    ...otherFlags(now, side).map(flagTo(now, side)),
  ]);
  const longest = Math.max(0, ...ranks.map((own) => own.length));
  return Array.from({ length: longest }, (_, i) => ranks.map((own) => own[i]))
    .flat()
    .flatMap((flag) => flag ?? []);
}

/** The flags that stand on the plot, and those that are ticks. */
export const shownOf = (flags: readonly Flag[]) => ({
  shown: flags.slice(0, FLAGS_SHOWN),
  ticks: flags.slice(FLAGS_SHOWN),
});

function flagTo(now: ConditionResult, side: Side) {
  return ([kind, name, angle]: NamedFlag): Flag | undefined => {
    if (angle === null || angle === undefined || angle <= 0 || angle >= 180) return undefined;
    // without openings nothing is known of where her range ends
    const limits =
      now.openings.length > 0 &&
      ENDS_RANGE.includes(name) &&
      angle === now.sides?.[side]?.range_deg;
    const words = `${name} ${quantity(angle, '°', 1)}${limits ? ', her limit' : ''}`;
    return { kind: limits ? 'range' : kind, heel: toSide(angle, side), words };
  };
}

/** Angle of vanishing stability, downflooding twice, largest lever, deck edge. */
function mainFlags(now: ConditionResult, side: Side): readonly NamedFlag[] {
  const own = now.sides?.[side];
  const unclosed = own?.downflooding_angle_deg;
  const all = own?.downflooding_angle_all_open_deg;
  const top = topOf(now, side);
  return [
    ['vanishing', 'vanishes', vanishing(now, side)],
    ['flooding', 'first unclosed opening', unclosed],
    ...(all === unclosed ? [] : [['flooding', 'all openings open', all] as const]),
    ...(top === undefined ? [] : [['top', 'maximum GZ', top] as const]),
    ['edge', 'deck edge', own?.deck_edge_angle_deg],
  ];
}

/** The heel of the largest lever, which is known to her worse side. */
const topOf = (now: ConditionResult, side: Side) =>
  side === (now.worse_side ?? 'starboard') ? (now.greatest_gz_at_deg ?? undefined) : undefined;

function otherFlags(now: ConditionResult, side: Side): readonly NamedFlag[] {
  const own = now.sides?.[side];
  const inUse = own?.downflooding_angle_in_use_deg;
  const isWorse = side === (now.worse_side ?? 'starboard');
  const low = now.openings.filter((o) => o.side === side || o.side === 'centreline');
  return [
    ...(inUse === own?.downflooding_angle_deg ? [] : [['flooding', 'boards out', inUse] as const]),
    ['edge', 'cockpit coaming', own?.coaming_angle_deg],
    ...(isWorse && now.vanishing_angle_without_house_deg !== now.vanishing_angle_deg
      ? [['bare', 'vanishes without deckhouse', now.vanishing_angle_without_house_deg] as const]
      : []),
    ...low.map((o) => ['opening', plainWords(o.id), o.immersion_angles_deg?.[side]] as const),
  ];
}

/** Flags as they are met on the way out, each side by itself. */
export const byHeel = (flags: readonly Flag[]): readonly Flag[] =>
  SIDES.toReversed().flatMap((side) =>
    flags
      .filter((flag) => flag.heel < 0 === (side === 'port'))
      .toSorted((a, b) => Math.abs(a.heel) - Math.abs(b.heel)),
  );
