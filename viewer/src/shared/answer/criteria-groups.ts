/** Criteria by their verdict: what is missed first, and nothing ever better than it was judged. */
import { stateWords, type Verdict } from './criteria.ts';

/** A criterion of hers, or of a cockpit full of water. */
export type JudgedRows = Verdict & { readonly cockpit?: boolean };

export type VerdictGroup = 'missed' | 'within doubt' | 'to be confirmed' | 'met';

/** In the order in which they are read. */
const VERDICT_GROUPS: readonly VerdictGroup[] = [
  'missed',
  'within doubt',
  'to be confirmed',
  'met',
];

const GROUP_OF: Readonly<Record<string, VerdictGroup>> = {
  'not met': 'missed',
  missed: 'missed',
  'not met within doubt': 'within doubt',
  'met within doubt': 'within doubt',
  met: 'met',
};

/** The group of a verdict; one that is not known is to be confirmed, never met. */
export const groupOf = (one: JudgedRows): VerdictGroup =>
  GROUP_OF[stateWords(one)] ?? 'to be confirmed';

/** The same criteria in groups, of "within doubt" those that are not met first. */
export function byVerdict<C extends JudgedRows>(
  criteria: readonly C[],
): readonly (readonly [VerdictGroup, readonly C[]])[] {
  const worstFirst = (a: C, b: C) =>
    Number(stateWords(a).startsWith('met')) - Number(stateWords(b).startsWith('met'));
  return VERDICT_GROUPS.map(
    (group) => [group, criteria.filter((c) => groupOf(c) === group).toSorted(worstFirst)] as const,
  );
}

/** On which side of the limit those within doubt lie: "not met" is never shown as merely in doubt. */
function doubtOf(inDoubt: readonly JudgedRows[]) {
  const isMet = (one: JudgedRows) => stateWords(one).startsWith('met');
  return { metInDoubt: inDoubt.filter(isMet), unmetInDoubt: inDoubt.filter((one) => !isMet(one)) };
}

/** The two sides of "within doubt" in words: "1 not met, 2 met". */
export function doubtWords(criteria: readonly JudgedRows[]): string {
  const { metInDoubt, unmetInDoubt } = doubtOf(criteria);
  const sides = [
    unmetInDoubt.length > 0 && `${unmetInDoubt.length} not met`,
    metInDoubt.length > 0 && `${metInDoubt.length} met`,
  ];
  return sides.filter(Boolean).join(', ');
}

/** Those that need a look. */
export function tallied(criteria: readonly JudgedRows[]) {
  const of = new Map(byVerdict(criteria));
  return {
    missed: of.get('missed') ?? [],
    ...doubtOf(of.get('within doubt') ?? []),
    open: of.get('to be confirmed') ?? [],
  };
}
