/** Colours of what is drawn, on one symmetric scale for cards, bars, profile and 3D. */
import { massColour, scaleTop, trimColour } from './colour.ts';
import type { Assessment, Effect, ScenePart } from './contract.ts';

export type Mode = 'trim' | 'mass' | 'plain';

/** What the modes are called. */
export const MODE_WORDS: Readonly<Record<Mode, string>> = {
  trim: 'effect on trim',
  mass: 'mass',
  plain: 'plain',
};

export interface Scales {
  readonly trimTop: number;
  readonly massTop: number;
}

/** The ends of the scales: everything that has an effect, or a mass, fits. */
export function scalesOf(assessment: Assessment, effects: ReadonlyMap<string, Effect>): Scales {
  const { changes, parts, replaced, items } = assessment;
  const shown = [...changes, ...parts, ...replaced].map((one) => one.effect.trim_mm);
  const single = items.map((item) => effects.get(item.path)?.trim_mm ?? 0);
  return {
    trimTop: scaleTop([...shown, ...single]),
    massTop: scaleTop([...parts, ...replaced].map((part) => part.mass_kg)),
  };
}

/** Colours of the pieces of the scene by id; what stays is not coloured. */
export function pieceColours(
  mode: Mode,
  { parts, replaced }: Assessment,
  scene: readonly ScenePart[],
  { trimTop, massTop }: Scales,
): ReadonlyMap<string, string> {
  if (mode === 'plain') return new Map();
  return new Map(
    scene.flatMap(({ id, role }): readonly [string, string][] => {
      const known = role === 'new' ? parts : role === 'replaced' ? replaced : [];
      const piece = known.find((one) => one.id === id);
      if (!piece) return [];
      const colour =
        mode === 'trim'
          ? trimColour(piece.effect.trim_mm, trimTop)
          : massColour(piece.mass_kg, massTop);
      return [[id, colour]];
    }),
  );
}
