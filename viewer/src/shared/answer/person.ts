/** A person aboard in words: headroom in each house, and what is seen from the helm. */
import type {
  HeadroomResult,
  HiddenSector,
  PersonResult,
  SightChange,
  SightResult,
} from '../../contract.ts';
import { quantity } from '../words/numbers.ts';
import { lastKey, plainWords } from '../words/plain-words.ts';

/** A house of the refit, or of the boat as found where there is no refit. */
export interface HouseHeadroom {
  readonly now: HeadroomResult;
  readonly before: HeadroomResult | undefined;
}

/** Headroom in the houses of the refit, each beside the least there was before. */
export function housesOf({ headroom }: PersonResult): readonly HouseHeadroom[] {
  const [now, found] = [
    headroom.filter((h) => h.stage === 'refit'),
    headroom.filter((h) => h.stage === 'as_found'),
  ];
  if (now.length === 0) return found.map((h) => ({ now: h, before: undefined }));
  const [only] = found;
  return now.map((h) => ({
    now: h,
    before: found.find(({ id }) => id === h.id) ?? (now.length === 1 ? only : undefined),
  }));
}

/** The lines of sight in a condition, the refit's before those of the boat as found. */
export const sightsIn = ({ sights }: PersonResult, condition: string): readonly SightResult[] =>
  sights
    .filter((s) => s.id === condition)
    .toSorted((a, b) => Number(b.stage === 'refit') - Number(a.stage === 'refit'));

/** Where a person cannot stand upright in a house, in words. */
export function shortWords({ low, spare_m: spare }: HeadroomResult): string {
  if (spare === null) return '';
  const middle = low.filter((l) => l.where === 'middle');
  if (middle.length === 0)
    return low.length === 0
      ? 'standing headroom everywhere'
      : 'standing headroom in the middle only';
  const places = middle.map(
    (l) => `x ${quantity(l.from_x_m, 'm', 0.01)} to ${quantity(l.to_x_m, 'm', 0.01)}`,
  );
  return `short by ${quantity(-spare * 1000, 'mm', 1)} at most: ${places.join(', ')}`;
}

/** What a line of sight goes over. */
const overWords = ({ over }: Pick<SightResult, 'over'>): string =>
  over === 'hull' ? 'the bow' : plainWords(lastKey(over));

/** How far the water is hidden, in words; why, where none is seen. */
export function blindWords(sight: SightResult): string {
  const { blind_m: blind, blind_lengths: lengths } = sight;
  if (blind === null || lengths === null) return sight.why;
  return `${quantity(blind, 'm', 0.1)} of water hidden ahead (${lengths.toFixed(1)} boat lengths), over ${overWords(sight)}`;
}

/** What would show the water from a distance; empty where it is seen. */
export function changeWords(change: SightChange, sight: SightResult): string {
  const at = `To see water ${quantity(change.blind_m, 'm', 0.1)} ahead`;
  if (change.eye_higher_m < 0.0005) return '';
  const higher = `eye ${quantity(change.eye_higher_m * 1000, 'mm', 1)} higher`;
  const { obstacle_lower_m: lower } = change;
  return lower === null
    ? `${at}: ${higher}. A lower ${overWords(sight)} alone would not show it.`
    : `${at}: ${higher}, or ${overWords(sight)} ${quantity(lower * 1000, 'mm', 1)} lower.`;
}

const sideWords = (deg: number): string =>
  deg === 0 ? 'ahead' : `${Math.abs(deg).toFixed(0)}° to ${deg < 0 ? 'port' : 'starboard'}`;

const NARROW_DEG = 5;

/** What on deck limits the view, each from its first to its last degree; what is narrow left out. */
export function sectorsWords(sectors: readonly HiddenSector[]): string {
  const names = [...new Set(sectors.map((s) => s.over))];
  return names
    .map((over) => {
      const mine = sectors.filter((s) => s.over === over);
      const from = Math.min(...mine.map((s) => s.from_deg));
      const to = Math.max(...mine.map((s) => s.to_deg));
      return to - from < NARROW_DEG
        ? ''
        : `${overWords({ over })} from ${sideWords(from)} to ${sideWords(to)}`;
    })
    .filter((words) => words !== '')
    .join('; ');
}
