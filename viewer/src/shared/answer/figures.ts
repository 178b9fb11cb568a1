/** The figures every page keeps at the top: new value, value as found, their difference, +/-. */
import type { ConditionResult, Difference, PlusMinus } from '../../contract.ts';
import { upturned } from '../boat/profile.ts';
import { number, signed, stepFor } from '../words/numbers.ts';

export interface Figure {
  readonly id: string;
  readonly label: string;
  /** Path of the result. */
  readonly path: string;
  /** The same of the boat as found, and of the change; empty where there is none. */
  readonly wasPath: string;
  readonly changePath: string;
  readonly value: string;
  /** The sign of the value in words, or what it is measured from. */
  readonly side: string;
  /** Empty where there is none: of a boat upside down. */
  readonly plusMinus: string;
  /** Whether that is the word of draws: GM is too small for slopes. */
  readonly sampled: boolean;
  readonly unit: string;
  readonly was: string;
  /** The value as found with its unit and its sign in words. */
  readonly wasInFull: string;
  readonly change: string;
  readonly changePlusMinus: string;
  /** The change itself, where it is a trim: painted in the trim colours. */
  readonly trimChange?: number;
}

interface Kind {
  readonly id: string;
  readonly label: string;
  readonly key: string;
  /** Its name among what has changed. */
  readonly changeKey?: keyof PlusMinus;
  readonly unit: string;
  readonly finest: number;
  readonly of: (c: ConditionResult) => number;
  readonly changeOf: (after: ConditionResult, before: ConditionResult, d: Difference) => number;
  readonly plusMinusOf: (pm: PlusMinus) => number;
  readonly side: (value: number) => string;
  /** Shown without its sign, the words beside it carry it. */
  readonly signInWords?: boolean;
  /** A change in words; without it the change is shown with its sign. */
  readonly changeSide?: (change: number) => string;
  /** Changes of what is shown in metres are shown in millimetres. */
  readonly changeIn?: 'mm';
}

/** An older version's results do not tell it; taken apart, sinkage and trim are too wide. */
const ends = (pm: PlusMinus) => Math.hypot(pm.sinkage_mm, pm.trim_mm / 2);
const deeper = (mm: number) => (mm >= 0 ? 'deeper' : 'higher');
const sternOrBow = (mm: number) => (mm >= 0 ? 'by the stern' : 'by the bow');
const starboardOrPort = (deg: number) => (deg >= 0 ? 'to starboard' : 'to port');

function sinkage(
  id: string,
  label: string,
  key: string,
  of: Kind['of'],
  plusMinusOf: Kind['plusMinusOf'],
): Kind {
  return {
    id,
    label,
    key,
    ...(key === 'sinkage_mm' ? { changeKey: key } : {}),
    unit: 'mm',
    finest: 1,
    of,
    plusMinusOf,
    changeOf: (after, before) => of(after) - of(before),
    side: deeper,
    signInWords: true,
    changeSide: deeper,
  };
}

const KINDS: readonly Kind[] = [
  {
    id: 'displacement',
    label: 'displacement',
    key: 'displacement_kg',
    changeKey: 'displacement_kg',
    unit: 'kg',
    finest: 1,
    of: (c) => c.displacement_kg,
    changeOf: (_a, _b, d) => d.displacement_kg,
    plusMinusOf: (pm) => pm.displacement_kg,
    side: () => '',
  },
  {
    id: 'lcg',
    label: 'LCG',
    key: 'centre_of_gravity_m.x',
    changeKey: 'lcg_m',
    unit: 'm',
    finest: 0.005,
    signInWords: true,
    of: (c) => c.centre_of_gravity_m[0],
    changeOf: (_a, _b, d) => d.lcg_m,
    plusMinusOf: (pm) => pm.lcg_m,
    side: (m) => (m >= 0 ? 'aft of FP' : 'forward of FP'),
    changeIn: 'mm',
    changeSide: (m) => (m >= 0 ? 'aft' : 'forward'),
  },
  {
    id: 'vcg',
    label: 'VCG',
    key: 'centre_of_gravity_m.z',
    changeKey: 'vcg_m',
    unit: 'm',
    finest: 0.005,
    of: (c) => c.centre_of_gravity_m[2],
    changeOf: (_a, _b, d) => d.vcg_m,
    plusMinusOf: (pm) => pm.vcg_m,
    signInWords: true,
    changeIn: 'mm',
    side: (m) => (m >= 0 ? 'above DWL' : 'below DWL'),
    changeSide: (m) => (m >= 0 ? 'up' : 'down'),
  },
  sinkage(
    'bow',
    'sinkage, bow',
    'sinkage_bow_mm',
    (c) => c.sinkage_bow_mm,
    (pm) => pm.sinkage_bow_mm ?? ends(pm),
  ),
  sinkage(
    'midships',
    'midships',
    'sinkage_mm',
    (c) => c.sinkage_mm,
    (pm) => pm.sinkage_mm,
  ),
  sinkage(
    'stern',
    'stern',
    'sinkage_stern_mm',
    (c) => c.sinkage_stern_mm,
    (pm) => pm.sinkage_stern_mm ?? ends(pm),
  ),
  {
    id: 'trim',
    label: 'trim',
    key: 'trim_mm',
    changeKey: 'trim_mm',
    unit: 'mm',
    finest: 1,
    of: (c) => c.trim_mm,
    changeOf: (_a, _b, d) => d.trim_mm,
    plusMinusOf: (pm) => pm.trim_mm,
    signInWords: true,
    side: sternOrBow,
    changeSide: sternOrBow,
  },
  {
    id: 'list',
    label: 'list',
    key: 'heel_deg',
    changeKey: 'heel_deg',
    unit: '°',
    finest: 0.1,
    of: (c) => c.heel_deg,
    changeOf: (_a, _b, d) => d.heel_deg,
    plusMinusOf: (pm) => pm.heel_deg,
    signInWords: true,
    side: starboardOrPort,
    changeSide: starboardOrPort,
  },
  {
    id: 'gm',
    label: 'GM upright',
    key: 'gm_m',
    changeKey: 'gm_m',
    unit: 'm',
    finest: 0.005,
    of: (c) => c.gm_m,
    changeOf: (_a, _b, d) => d.gm_m,
    plusMinusOf: (pm) => pm.gm_m,
    side: () => '',
    changeIn: 'mm',
  },
];

/** How she lies, which is read off a boat that stands: of one upside down nothing is said. */
const LYING: readonly string[] = ['bow', 'midships', 'stern', 'trim', 'list'];
const UPSIDE_DOWN = 'upside down';

/** Figures whose slopes bend first where GM is small. */
const BENT: readonly string[] = ['list', 'gm'];

const withUnit = (text: string, unit: string) => (unit === '°' ? `${text}°` : `${text} ${unit}`);

/** Its value, sign and plus/minus in words. */
function told(kind: Kind, boat: ConditionResult, step: number) {
  if (upturned(boat) && LYING.includes(kind.id))
    return { value: kind.id === 'list' ? UPSIDE_DOWN : '—', side: '', plusMinus: '' };
  const value = kind.of(boat);
  return {
    value: shown(kind, value, step),
    side: sideWords(kind, value, step),
    plusMinus: number(kind.plusMinusOf(boat.plus_minus), step),
  };
}

function shown(kind: Kind, value: number, step: number): string {
  return withUnit(number(kind.signInWords ? Math.abs(value) : value, step), kind.unit);
}

function sideWords(kind: Kind, value: number, step: number): string {
  return kind.signInWords && Math.abs(value) < step / 2 ? '' : kind.side(value);
}

function changeWords(kind: Kind, change: number, step: number): string {
  if (Math.abs(change) < step / 2) return 'no change';
  const unit = kind.changeIn ?? kind.unit;
  if (!kind.changeSide) return withUnit(signed(change, step), unit);
  return `${withUnit(number(Math.abs(change), step), unit)} ${kind.changeSide(change)}`;
}

function figure(kind: Kind, now: ConditionResult, before: ConditionResult | undefined): Figure {
  const plusMinus = kind.plusMinusOf(now.plus_minus);
  const step = stepFor(plusMinus, kind.finest);
  const base = {
    id: kind.id,
    label: kind.label,
    path: `conditions.${now.id}.${now.stage}.${kind.key}`,
    wasPath: '',
    changePath: '',
    ...told(kind, now, step),
    sampled: now.plus_minus_by === 'sampled' && BENT.includes(kind.id),
    unit: kind.unit,
  };
  if (!before || !now.change)
    return { ...base, was: '', wasInFull: '', change: '', changePlusMinus: '' };
  // the step of a boat upside down is not that of one that stands
  const own = upturned(now) ? stepFor(kind.plusMinusOf(before.plus_minus), kind.finest) : step;
  const old = told(kind, before, own);
  const oldSide = old.side === base.side ? '' : old.side;
  const was = {
    wasPath: `conditions.${before.id}.${before.stage}.${kind.key}`,
    wasInFull: `${old.value} ${old.side}`.trim(),
    was: `${old.value.replace(` ${kind.unit}`, '')}${shortSide(oldSide)}`,
  };
  if (LYING.includes(kind.id) && [now, before].some(upturned))
    return { ...base, ...was, change: '', changePlusMinus: '' };
  const per = kind.changeIn ? 1000 : 1;
  const change = kind.changeOf(now, before, now.change) * per;
  const changePlusMinus = kind.plusMinusOf(now.change.plus_minus) * per;
  const changeStep = stepFor(changePlusMinus, kind.finest * per);
  return {
    ...base,
    ...was,
    changePath: kind.changeKey ? `conditions.${now.id}.${now.stage}.change.${kind.changeKey}` : '',
    change: changeWords(kind, change, changeStep),
    changePlusMinus: number(changePlusMinus, changeStep),
    ...(kind.id === 'trim' ? { trimChange: change } : {}),
  };
}

const shortSide = (side: string) => side && ` ${side.replace(/ (of FP|DWL)$/, '')}`;

/** The figures of a condition, the refit's with the boat as found beside it. */
export function figures(conditions: readonly ConditionResult[], id: string): readonly Figure[] {
  const before = conditions.find((c) => c.id === id && c.stage === 'as_found');
  const after = conditions.find((c) => c.id === id && c.stage === 'refit');
  const now = after ?? before;
  if (!now) return [];
  return KINDS.map((kind) => figure(kind, now, after && before));
}

/** The two boats of a condition, where they are answered. */
export const bothBoats = (conditions: readonly ConditionResult[], id: string) => ({
  before: conditions.find((c) => c.id === id && c.stage === 'as_found'),
  after: conditions.find((c) => c.id === id && c.stage === 'refit'),
});

/** Freeboard at a mark, the mean of both sides, as now and as found. */
export interface MarkFreeboard {
  readonly mark: string;
  readonly port: number;
  readonly starboard: number;
  readonly mean: number;
  readonly change: number | undefined;
}

/** Freeboards at every mark of one boat. */
export function freeboards(now: ConditionResult): readonly MarkFreeboard[] {
  const marks = [...new Set(now.freeboards.map((f) => f.mark))];
  return marks.map((mark) => {
    const on = (side: string) =>
      now.freeboards.find((f) => f.mark === mark && f.side === side)?.freeboard_mm;
    const port = on('port') ?? on('starboard') ?? 0;
    const starboard = on('starboard') ?? port;
    const changes = (now.change?.freeboards ?? []).filter((f) => f.mark === mark);
    return {
      mark,
      port,
      starboard,
      mean: (port + starboard) / 2,
      change: changes.length
        ? changes.reduce((sum, f) => sum + f.freeboard_mm, 0) / changes.length
        : undefined,
    };
  });
}
