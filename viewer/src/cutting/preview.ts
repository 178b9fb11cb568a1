/** What a cut pack will hold, from the answer alone: plates and bars by thickness. */
import type { PartResult } from '../contract.ts';
import { type Mapping, mapping, numberOr } from '../shared/boat/document.ts';

/** Plates or bars of one thickness. */
export interface SteelTotal {
  readonly kind: 'plate' | 'bar';
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
  for (const { kind: word, ...plate } of parts.flatMap((part) => part.plates)) {
    const kind = word === 'plate' ? 'plate' : 'bar';
    const key = `${kind} ${plate.thickness_mm}`;
    const before = totals.get(key);
    totals.set(key, {
      kind,
      thickness_mm: plate.thickness_mm,
      count: (before?.count ?? 0) + 1,
      area_m2: (before?.area_m2 ?? 0) + plate.area_m2,
      mass_kg: (before?.mass_kg ?? 0) + plate.mass_kg,
      sheets_m: kind === 'plate' ? sheetsOf(document, plate.thickness_mm) : [],
    });
  }
  return [...totals.values()].toSorted(
    (a, b) => b.kind.localeCompare(a.kind) || a.thickness_mm - b.thickness_mm,
  );
}

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
