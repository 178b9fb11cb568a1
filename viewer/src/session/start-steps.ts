/** The empty start: which of its four steps an owner has made her own. */

export const STEPS = ['hull', 'freeboards', 'comes-off', 'goes-on'] as const;
export type StartStep = (typeof STEPS)[number];

const key = (refit: string) => `hullchange.start.${refit}`;

/** Steps done so far; undefined where the boat did not begin empty, or all are done. */
export function startOf(refit: string): readonly StartStep[] | undefined {
  const stored = localStorage.getItem(key(refit));
  if (stored === null) return undefined;
  return STEPS.filter((step) => stored.split(' ').includes(step));
}

/** Remembers the steps done; with all of them the start is over. */
export function keepStart(refit: string, done: readonly StartStep[]): void {
  if (STEPS.every((step) => done.includes(step))) localStorage.removeItem(key(refit));
  else localStorage.setItem(key(refit), done.join(' '));
}
