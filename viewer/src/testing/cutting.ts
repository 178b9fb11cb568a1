/** Cut packs for tests: everything empty but what a test says. */
import type { CutOpening, CutPiece, CutPurchase, CutSection, Cutting } from '../contract.ts';

export const cutOpeningOf = (more: Partial<CutOpening> = {}): CutOpening => ({
  part: '',
  path: '',
  readings: [],
  values_m: {},
  ...more,
});

export const cutPieceOf = (more: Partial<CutPiece> = {}): CutPiece => ({
  id: '',
  mark: '',
  part: '',
  plate: '',
  change: '',
  shape: '',
  material: '',
  count: 0,
  thickness_mm: 0,
  length_mm: 0,
  breadth_mm: 0,
  area_m2: 0,
  mass_kg: 0,
  cut_length_m: 0,
  pierces_count: 0,
  side: '',
  bend_radius_mm: null,
  lift_at_mm: [0, 0],
  lift_by: '',
  draws_in_mm: [0, 0],
  nest: null,
  in_boat_m: null,
  contours: '',
  marks: '',
  bends: '',
  checks: '',
  words: [],
  ...more,
});

export const cutPurchaseOf = (more: Partial<CutPurchase> = {}): CutPurchase => ({
  material: '',
  buy: '',
  leftovers: '',
  bought_kg: 0,
  from_leftovers_kg: 0,
  used_kg: 0,
  left_over_kg: 0,
  scrap_kg: 0,
  used_percent: 0,
  price: null,
  not_covered: '',
  not_covered_kg: 0,
  ...more,
});

export const cutSectionOf = (more: Partial<CutSection> = {}): CutSection => ({
  section: '',
  buy: '',
  is_proven: false,
  bound: '',
  bars: [],
  ...more,
});

export const cuttingOf = (more: Partial<Cutting> = {}): Cutting => ({
  refit: '',
  revision: null,
  option: null,
  state: 'none',
  nests: 'none',
  said: '',
  edit: null,
  document_sha256: null,
  is_outdated: false,
  sentence: '',
  standing: {
    standing: 'unsigned',
    sentence: '',
    conflicts: [],
    revision: null,
    revision_sha256: null,
  },
  problem: null,
  ...more,
});
