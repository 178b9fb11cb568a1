/** Which figures every page keeps at the top, where they stand in an answer, and their signs. */
import type { ConditionResult, Difference, PlusMinus } from '../../contract.ts';
import { gmStep, massStep } from '../words/numbers.ts';

/** A figure every page keeps at the top. */
export interface FigureKind {
  readonly id: string;
  readonly label: string;
  readonly key: string;
  /** Its name among what has changed. */
  readonly changeKey?: keyof PlusMinus;
  readonly unit: string;
  readonly finest: number;
  /** The step it is shown in, where that is not by its uncertainty alone. */
  readonly step?: (value: number, plusMinus: number) => number;
  readonly of: (c: ConditionResult) => number;
  readonly changeOf: (d: Difference) => number | null;
  readonly plusMinusOf: (pm: PlusMinus) => number | null;
  readonly side: (value: number) => string;
  /** Shown without its sign, the words beside it carry it. */
  readonly signInWords?: boolean;
  /** A change in words; without it the change is shown with its sign. */
  readonly changeSide?: (change: number) => string;
  /** Changes of what is shown in metres are shown in millimetres. */
  readonly changeIn?: 'mm';
}

const deeper = (mm: number) => (mm >= 0 ? 'deeper' : 'higher');
const sternOrBow = (mm: number) => (mm >= 0 ? 'by the stern' : 'by the bow');
const starboardOrPort = (deg: number) => (deg >= 0 ? 'to starboard' : 'to port');

const sinkage = (
  id: string,
  label: string,
  key: 'sinkage_mm' | 'sinkage_bow_mm' | 'sinkage_stern_mm',
): FigureKind => ({
  id,
  label,
  key,
  changeKey: key,
  unit: 'mm',
  finest: 1,
  of: (boat) => boat[key],
  plusMinusOf: (pm) => pm[key],
  changeOf: (d) => d[key],
  side: deeper,
  signInWords: true,
  changeSide: deeper,
});

/** In the order in which they stand. */
export const FIGURE_KINDS: readonly FigureKind[] = [
  {
    id: 'displacement',
    label: 'displacement',
    key: 'displacement_kg',
    changeKey: 'displacement_kg',
    unit: 'kg',
    finest: 1,
    step: (_, sd) => massStep(sd),
    of: (c) => c.displacement_kg,
    changeOf: (d) => d.displacement_kg,
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
    changeOf: (d) => d.lcg_m,
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
    changeOf: (d) => d.vcg_m,
    plusMinusOf: (pm) => pm.vcg_m,
    signInWords: true,
    changeIn: 'mm',
    side: (m) => (m >= 0 ? 'above DWL' : 'below DWL'),
    changeSide: (m) => (m >= 0 ? 'up' : 'down'),
  },
  sinkage('bow', 'sinkage, bow', 'sinkage_bow_mm'),
  sinkage('midships', 'midships', 'sinkage_mm'),
  sinkage('stern', 'stern', 'sinkage_stern_mm'),
  {
    id: 'trim',
    label: 'trim',
    key: 'trim_mm',
    changeKey: 'trim_mm',
    unit: 'mm',
    finest: 1,
    of: (c) => c.trim_mm,
    changeOf: (d) => d.trim_mm,
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
    changeOf: (d) => d.heel_deg,
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
    step: gmStep,
    of: (c) => c.gm_m,
    changeOf: (d) => d.gm_m,
    plusMinusOf: (pm) => pm.gm_m,
    side: () => '',
    changeIn: 'mm',
  },
];
