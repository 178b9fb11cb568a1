/** Findings beside the thing they concern, in the order of the answer: worst first. */
import type { FindingResult } from '../../contract.ts';

/** What a severity is called on screen. */
export const SEVERITY_WORDS = { fail: 'Fails', warn: 'Check', note: 'Note' } as const;

/** Whether a place lies at or below a path. */
export const isWithin = (place: string, path: string): boolean =>
  place === path || place.startsWith(`${path}.`);

/** Findings at or below any of the paths. */
export function findingsAt(
  findings: readonly FindingResult[],
  ...paths: readonly string[]
): readonly FindingResult[] {
  return findings.filter((f) => paths.some((path) => isWithin(f.place, path)));
}

/** Findings that lie under none of the paths. */
export function findingsElsewhere(
  findings: readonly FindingResult[],
  ...paths: readonly string[]
): readonly FindingResult[] {
  return findings.filter((f) => !paths.some((path) => isWithin(f.place, path)));
}
