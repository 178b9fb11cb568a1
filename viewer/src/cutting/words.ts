/** The steel on the Cutting page: which pieces are shown, how far they are, in words. */
import type { CutOpening, CutPiece, Cutting, PieceProgress, StageOffered } from '../contract.ts';
import { amount, number, trimmed } from '../shared/words/numbers.ts';
import { quantityTyped } from '../shared/words/typed.ts';
import { isMetric, unitAfter } from '../shared/words/units.ts';

type ShopStage = PieceProgress['stage'];
export type ShopStep = Exclude<ShopStage, 'to cut'>;

/** Which pieces of a list are shown; undefined shows all. */
export interface Filter {
  readonly thickness: number | undefined;
  readonly stage: ShopStage | undefined;
}

export type Progress = ReadonlyMap<string, PieceProgress>;

/** The thicknesses there are, the thinnest first [mm]. */
export const thicknesses = (pieces: readonly CutPiece[]): readonly number[] =>
  [...new Set(pieces.map((piece) => piece.thickness_mm))].toSorted((a, b) => a - b);

const stageOf = (progressByPiece: Progress, id: string): ShopStage =>
  progressByPiece.get(id)?.stage ?? 'to cut';

/** The pieces that a filter lets through. */
export const filtered = (
  pieces: readonly CutPiece[],
  progressByPiece: Progress,
  { thickness, stage }: Filter,
): readonly CutPiece[] =>
  pieces.filter(
    (piece) =>
      (thickness === undefined || piece.thickness_mm === thickness) &&
      (stage === undefined || stageOf(progressByPiece, piece.id) === stage),
  );

/** What a piece's plate is called in the scene. */
export const plateOf = (piece: CutPiece): string => `${piece.part}.${piece.plate}`;

/** What files made now would say of the review. */
export const stampOf = (status: Cutting): string =>
  status.is_outdated ? 'stale' : status.standing.standing;

/** Whether steel may be cut from these files. */
export const isSafe = (status: Cutting): boolean => stampOf(status).startsWith('signed');

/** How the nests are, in words. */
export function nestWords({ state, nests, said }: Cutting): string {
  if (state === 'working')
    return nests === 'none' ? `Working: ${said}.` : `Quick nests; better ones follow: ${said}.`;
  if (nests === 'kept') return 'The saved nests of this revision.';
  if (nests === 'good') return 'Good nests.';
  return nests === 'quick' ? 'Quick nests: stopped before better ones were found.' : '';
}

/** What the welds of a piece may take off its size, in words. */
export function drawnIn({ draws_in_mm: [low, high] }: CutPiece): string {
  if (high === 0) return 'No weld to other new plates shrinks it.';
  const reach = [...new Set([low, high].map((mm) => amount(mm, 'mm', 0.1)))].join(' to ');
  return `Welds may shrink it by ${reach}${unitAfter('mm')}, which the contour does not allow for.`;
}

const OF_STAGE: Readonly<Record<string, string>> = { cut: 'are cut', fitted: 'are welded' };

/** What the ticks make of a change's stage, in words. */
export const offerWords = ({ change, parts, before, stage }: StageOffered): string =>
  `${parts.join(', ')}: all plates and bars ${OF_STAGE[stage] ?? stage} by the cut list, and ` +
  `${change} is ${before} in the document.`;

/** The readings as the document has them; undefined while a distance is missing or no number. */
export function openingAsRead(
  { readings }: CutOpening,
  typed: ReadonlyMap<string, string>,
): Readonly<Record<string, number>> | undefined {
  // what lies under and over the string may stay empty, a distance may not
  const given = readings.filter(
    ({ key, read_mm }) =>
      (typed.get(key) ?? String(read_mm ?? '')).trim() !== '' || isDistance(key),
  );
  const numbers = given.map(({ key, read_mm }) => {
    const entry = typed.get(key);
    const isTouched = read_mm === null || (entry !== undefined && entry !== readingShown(read_mm));
    return [key, isTouched ? quantityTyped(entry ?? '', 'mm') : read_mm] as const;
  });
  if (!numbers.every(([, mm]) => Number.isFinite(mm))) return undefined;
  return Object.fromEntries(
    numbers.map(([key, mm]) => [key, isDistance(key) ? Math.round(mm * 10) / 1e4 : mm]),
  );
}

/** A reading as it stands in its field: all of it, or to a sixteenth of an inch. */
export const readingShown = (mm: number): string =>
  isMetric() ? trimmed(number(mm, 0.01)).replaceAll(',', '') : amount(mm, 'mm', 1);

const isDistance = (key: string) => key.endsWith('_m');
