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
  const shown = [...assessment.changes, ...assessment.parts].map((one) => one.effect.trim_mm);
  const items = assessment.items.map((item) => effects.get(item.path)?.trim_mm ?? 0);
  return {
    trimTop: scaleTop([...shown, ...items]),
    massTop: scaleTop(assessment.parts.map((part) => part.mass_kg)),
  };
}

/** What taking the replaced steel of a change away does to trim: net less gross. */
export function removalTrim(assessment: Assessment, change: string | null): number {
  return assessment.parts
    .filter((part) => part.change === change)
    .reduce((mm, part) => mm + part.effect.trim_mm - part.effect_gross.trim_mm, 0);
}

const removedMass = (assessment: Assessment, change: string | null) =>
  assessment.items
    .filter((item) => item.change === change && item.replaced_by !== null)
    .reduce((kg, item) => kg + item.mass_kg, 0);

/** Colours of the pieces of the scene by id; what stays is not coloured. */
export function pieceColours(
  mode: Mode,
  assessment: Assessment,
  scene: readonly ScenePart[],
  scales: Scales,
): ReadonlyMap<string, string> {
  const colours = new Map<string, string>();
  if (mode === 'plain') return colours;
  for (const { id, role, change } of scene) {
    const part = role === 'new' ? assessment.parts.find((p) => p.id === id) : undefined;
    if (part) {
      const byTrim = mode === 'trim';
      colours.set(
        id,
        byTrim
          ? trimColour(part.effect.trim_mm, scales.trimTop)
          : massColour(part.mass_kg, scales.massTop),
      );
    } else if (role === 'replaced') {
      const byTrim = mode === 'trim';
      colours.set(
        id,
        byTrim
          ? trimColour(removalTrim(assessment, change), scales.trimTop)
          : massColour(removedMass(assessment, change), scales.massTop),
      );
    }
  }
  return colours;
}
