/** Colours of what is drawn, on one symmetric scale for cards, bars, profile and 3D. */

import type { Assessment, Effect, Profile, ScenePart } from '../../contract.ts';
import { effectOf } from '../answer/effects.ts';
import { massColour, otherColour, scaleTop, trimColour } from './colour.ts';
import { MEASURES, type MeasureName, type Reach } from './measures.ts';

export type Mode = MeasureName | 'mass' | 'plain';

/** A piece of the scene, or what it was before, of which the outline is drawn. */
export type Drawable = Omit<ScenePart, 'role' | 'glb'> & {
  readonly role: ScenePart['role'] | 'before';
};

export interface Scales {
  readonly trimTop: number;
  readonly massTop: number;
  /** The ends of every measure's scale, each from less to more by as much. */
  readonly tops: Readonly<Record<MeasureName, number>>;
  readonly reach: Reach;
}

const NAMES = Object.keys(MEASURES) as MeasureName[];

/** What the modes are called. */
export const MODE_WORDS = {
  ...(Object.fromEntries(NAMES.map((name) => [name, MEASURES[name].words])) as Record<
    MeasureName,
    string
  >),
  mass: 'mass',
  plain: 'plain',
} as const satisfies Record<Mode, string>;

/** The ends of the scales: all that is drawn on them fits, which is more than steel for trim. */
export function scalesOf(
  assessment: Assessment,
  effects: ReadonlyMap<string, Effect>,
  profile: Pick<Profile, 'length_waterline_m' | 'marks'>,
): Scales {
  const { changes, parts, replaced, items } = assessment;
  const steel = [...parts, ...replaced].map(effectOf);
  const onCards = changes.map(effectOf);
  const single = items.flatMap((item) => effects.get(item.path) ?? []);
  const length = profile.length_waterline_m;
  const reach = { length, aftMark: Math.max(length / 2, ...profile.marks.map((m) => m.x_m)) };
  const top = (name: MeasureName) => {
    const { of, step } = MEASURES[name];
    const shown = name === 'trim' ? [...steel, ...onCards, ...single] : steel;
    return scaleTop(
      shown.map((effect) => of(effect, reach)),
      step,
    );
  };
  const tops = Object.fromEntries(NAMES.map((name) => [name, top(name)])) as Scales['tops'];
  const massTop = scaleTop([...parts, ...replaced].map((part) => part.mass_kg));
  return { trimTop: tops.trim, massTop, tops, reach };
}

/** Colour of an effect on a measure's scale. */
export const measureColour = (name: MeasureName, value: number, top: number): string =>
  name === 'trim' ? trimColour(value, top) : otherColour(value, top, MEASURES[name].step / 2);

/** Colours of the pieces of the scene by id; what stays is not coloured. */
export function pieceColours(
  mode: Mode,
  { parts, replaced }: Assessment,
  scene: readonly Drawable[],
  scales: Scales,
): ReadonlyMap<string, string> {
  if (mode === 'plain') return new Map();
  return new Map(
    scene.flatMap(({ id, role }): readonly [string, string][] => {
      const known = role === 'new' ? parts : role === 'replaced' ? replaced : [];
      const piece = known.find((one) => one.id === id);
      if (!piece) return [];
      if (mode === 'mass') return [[id, massColour(piece.mass_kg, scales.massTop)]];
      const value = MEASURES[mode].of(effectOf(piece), scales.reach);
      return [[id, measureColour(mode, value, scales.tops[mode])]];
    }),
  );
}
