/** What a cut pack will hold, from the answer alone: plates by thickness, bars by section. */
import type { PartResult, PlateResult } from '../contract.ts';
import { type Mapping, mapping, numberOr } from '../shared/boat/document.ts';

/** Plates of one thickness, bars of one section. */
export interface SteelTotal {
  readonly kind: 'plate' | 'bar';
  /** What bars are ordered by; empty for plates, and in answers of older versions. */
  readonly section: string;
  readonly thickness_mm: number;
  readonly count: number;
  readonly area_m2: number;
  readonly mass_kg: number;
  /** Sheets of this thickness in the stock, length and breadth [m]; none for bars. */
  readonly sheets_m: readonly (readonly [number, number])[];
}

/** Plates before bars, the thinnest first. */
export function steelTotals(
  parts: readonly PartResult[],
  document: Mapping,
): readonly SteelTotal[] {
  const totals = new Map<string, SteelTotal>();
  for (const plate of parts.flatMap((part) => part.plates)) {
    const kind = isSawn(plate) ? 'bar' : 'plate';
    const { thickness_mm } = plate;
    const section = plate.sawn_from ?? '';
    const key = `${kind} ${thickness_mm} ${section}`;
    const sheets_m = kind === 'plate' ? sheetsOf(document, thickness_mm) : [];
    const none = { count: 0, area_m2: 0, mass_kg: 0 };
    const made = { kind, section, thickness_mm, sheets_m, ...none } as const;
    totals.set(key, added(totals.get(key) ?? made, plate));
  }
  return [...totals.values()].toSorted(
    (a, b) => b.kind.localeCompare(a.kind) || a.thickness_mm - b.thickness_mm,
  );
}

const added = (before: SteelTotal, { area_m2, mass_kg }: PlateResult): SteelTotal => ({
  ...before,
  count: before.count + 1,
  area_m2: before.area_m2 + area_m2,
  mass_kg: before.mass_kg + mass_kg,
});

/** A flat that is shaped, as a cambered beam, is cut from plate; older answers do not tell. */
const isSawn = ({ kind, sawn_from: section }: PlateResult): boolean =>
  section === null ? kind !== 'plate' : section !== '';

/** Sizes of the sheets of a thickness [m]; what is no size is passed over. */
const sheetsOf = (document: Mapping, thickness_mm: number): readonly [number, number][] =>
  Object.values(mapping(mapping(document.stock).plates)).flatMap((one) => {
    const plate = mapping(one);
    return plate.thickness_mm === thickness_mm && Array.isArray(plate.sizes_m)
      ? plate.sizes_m.flatMap(sizeIn)
      : [];
  });

const sizeIn = (size: unknown): [number, number][] =>
  Array.isArray(size) && size.length === 2 ? [[numberOr(size[0], 0), numberOr(size[1], 0)]] : [];
