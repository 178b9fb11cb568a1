/** Colours of what is drawn, on one symmetric scale for cards, bars, profile and 3D. */

import type { Assessment, Effect, PartResult, ReplacedResult, ScenePart } from '../../contract.ts';
import { effectOrNone } from '../answer/effects.ts';
import { DEAD_BAND_MM, massColour, otherColour, scaleTop, trimColour } from './colour.ts';
import { MEASURE_NAMES, MEASURES, type MeasureName } from './measures.ts';

/** A piece of the scene, or what it was before, of which the outline is drawn. */
export type Drawable = Omit<ScenePart, 'role' | 'glb' | 'opens_m'> & {
  readonly opens_m?: ScenePart['opens_m'];
  readonly role: ScenePart['role'] | 'before';
};

export interface Scales {
  readonly trimTop: number;
  readonly massTop: number;
  /** The ends of every measure's scale, each from less to more by as much. */
  readonly tops: Readonly<Record<MeasureName, number>>;
}

export const MODES = [...MEASURE_NAMES, 'mass', 'plain'] as const;
export type Mode = (typeof MODES)[number];

/** What a mode is called. */
export const modeWords = (mode: Mode): string =>
  mode === 'mass' || mode === 'plain' ? mode : MEASURES[mode].words;

/** The ends of the scales: all that is drawn on them fits, which is more than steel for trim. */
export function scalesOf(assessment: Assessment, effects: ReadonlyMap<string, Effect>): Scales {
  const { changes, parts, replaced, items } = assessment;
  const steel = [...parts, ...replaced].map(effectOrNone);
  const onCards = changes.map(effectOrNone);
  const single = items.flatMap((item) => effects.get(item.path) ?? []);
  const top = (name: MeasureName) => {
    const { of, step } = MEASURES[name];
    const shown = name === 'trim' ? [...steel, ...onCards, ...single] : steel;
    return scaleTop(
      shown.map((effect) => of(effect) ?? 0),
      step,
    );
  };
  const tops = {
    trim: top('trim'),
    list: top('list'),
    freeboard: top('freeboard'),
    vcg: top('vcg'),
    gm: top('gm'),
  };
  const massTop = scaleTop([...parts, ...replaced].map((part) => part.mass_kg));
  return { trimTop: tops.trim, massTop, tops };
}

/** Colour of an effect on a measure's scale. */
export const measureColour = (name: MeasureName, value: number, top: number): string =>
  name === 'trim' ? trimColour(value, top) : otherColour(value, top, MEASURES[name].step / 2);

/** Whether an effect is drawn hatched, so that its direction shows without colour too. */
export const isHatched = (name: MeasureName, value: number): boolean =>
  value <= -(name === 'trim' ? DEAD_BAND_MM : MEASURES[name].step / 2);

/** The pieces that are hatched, by id: what goes to the bow, to port, or makes less. */
export function hatchedPieces(mode: Mode, { parts }: Assessment): ReadonlySet<string> {
  if (mode === 'mass' || mode === 'plain') return new Set();
  const hatched = parts.filter((part) =>
    isHatched(mode, MEASURES[mode].of(effectOrNone(part)) ?? 0),
  );
  return new Set(hatched.map(({ id }) => id));
}

/** Colours of the pieces of the scene by id; what stays is not coloured. */
export function pieceColours(
  mode: Mode,
  { parts, replaced }: Assessment,
  scene: readonly Drawable[],
  scales: Scales,
): ReadonlyMap<string, string> {
  if (mode === 'plain') return new Map();
  const colourOf = (part: PartResult | ReplacedResult) => {
    if (mode === 'mass') return massColour(part.mass_kg, scales.massTop);
    const value = MEASURES[mode].of(effectOrNone(part));
    return measureColour(mode, value ?? 0, scales.tops[mode]);
  };
  const known: Partial<Record<Drawable['role'], readonly (PartResult | ReplacedResult)[]>> = {
    new: parts,
    replaced,
  };
  return new Map(
    scene.flatMap(({ id, role }): readonly [string, string][] => {
      const part = known[role]?.find((one) => one.id === id);
      return part ? [[id, colourOf(part)]] : [];
    }),
  );
}
