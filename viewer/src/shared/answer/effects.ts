/** Effects of changes and parts, the last known where an answer leaves them out. */
import type { Assessment, Effect, PartResult } from '../../contract.ts';

interface Effective {
  readonly id: string;
  readonly effect: Effect | null;
}

const NONE: Effect = {
  sinkage_mm: 0,
  trim_mm: 0,
  heel_deg: 0,
  vcg_mm: 0,
  gm_mm: 0,
  freeboard_aft_mm: 0,
};

/** Steel with weld metal and paint, which its effects leave out; an older version tells less. */
export const countedOf = (part: PartResult): number => part.mass_counted_kg ?? part.mass_kg;

/** What it does to the boat. */
export const effectOrNone = ({ effect }: Pick<Effective, 'effect'>): Effect => effect ?? NONE;

/** An answer with the effects it left out, as they were: an edit elsewhere hardly moves them. */
export function withEffects(answer: Assessment, before: Assessment | undefined): Assessment {
  if (!before) return answer;
  return {
    ...answer,
    changes: filled(answer.changes, before.changes),
    parts: filled(answer.parts, before.parts),
    replaced: filled(answer.replaced, before.replaced),
  };
}

function filled<T extends Effective>(now: readonly T[], before: readonly T[]): readonly T[] {
  return now.map((one) =>
    one.effect ? one : { ...one, effect: before.find((b) => b.id === one.id)?.effect ?? null },
  );
}
