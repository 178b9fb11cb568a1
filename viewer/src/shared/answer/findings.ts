/** Findings beside the thing they concern, worst first. */
import type { FindingResult } from '../../contract.ts';

const RANK = { fail: 0, warn: 1, note: 2 } as const;

/** What a severity is called on screen. */
export const SEVERITY_WORDS = { fail: 'Fails', warn: 'Look at this', note: 'Note' } as const;

/** Whether a place lies at or below a path. */
export const isWithin = (place: string, path: string): boolean =>
  place === path || place.startsWith(`${path}.`);

/** Findings at or below any of the paths, worst first. */
export function findingsAt(
  findings: readonly FindingResult[],
  ...paths: readonly string[]
): readonly FindingResult[] {
  return findings
    .filter((f) => paths.some((path) => isWithin(f.place, path)))
    .toSorted((a, b) => RANK[a.severity] - RANK[b.severity]);
}

/** Findings that lie under none of the paths, worst first. */
export function findingsElsewhere(
  findings: readonly FindingResult[],
  ...paths: readonly string[]
): readonly FindingResult[] {
  return findings
    .filter((f) => !paths.some((path) => isWithin(f.place, path)))
    .toSorted((a, b) => RANK[a.severity] - RANK[b.severity]);
}
