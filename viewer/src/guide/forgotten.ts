/** What is easily forgotten in a refit, and what the answer itself reminds of. */
import type { Caution, ChangeResult } from '../contract.ts';
import { title } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';
import type { GuideEntry } from './entry.ts';

const FORGOTTEN: readonly (readonly [id: string, title: string, meaning: string])[] = [
  [
    'rig',
    'The rig goes up with the roof',
    'A mast stepped on deck or on the house rises with it, and so do boom, sails and everything on the roof. It has its own line in the ledger.',
  ],
  [
    'off',
    'The weight that was cut off',
    'Old plate, linings, pipes, cable and the engine’s own odds and ends: weigh the scrap.',
  ],
  ['gear', 'Chain, anchors and tools', 'Heavy, at the ends, and seldom in a list.'],
  [
    'skin',
    'Paint, filler, weld metal, foam',
    'Small amounts, but many of them, and most of them high up.',
  ],
  [
    'well',
    'The cockpit full of water',
    'Choose the condition in which it is flooded: she trims, and her openings come nearer the sea.',
  ],
  [
    'water',
    'Fresh and salt water',
    'She lies deeper in fresh water than in the sea, at the same weight.',
  ],
  [
    'side',
    'Batteries to one side',
    'Heavy and off the centreline, they list her. Balance them, or allow for the list.',
  ],
  [
    'ends',
    'Weight at the ends',
    'It trims her most, and it makes her pitch. Calm-water figures show only the trim.',
  ],
  [
    'brochure',
    'Brochure weight',
    'Usually too low: boats weigh more than their brochures say. Read her freeboards.',
  ],
  [
    'transom',
    'A transom extension that is dry',
    'While its bottom is above the water at rest it only adds weight there; it lifts her only once she is pressed down onto it.',
  ],
  [
    'house',
    'House volume',
    'It counts only while it stays shut and whole. Read the range without it too.',
  ],
];

/** The list, and what the changes of this boat remind of. */
export function forgotten(changes: readonly ChangeResult[]): readonly GuideEntry[] {
  const reminders = changes.filter((change) => change.reminder !== '');
  const hers: GuideEntry = {
    id: 'forgotten-hers',
    title: 'On this boat',
    meaning: reminders.map((one) => `${title(one.id)}: ${reworded(one.reminder)}`),
    also: 'reminder',
  };
  const all = FORGOTTEN.map(([id, name, meaning]) => ({
    id: `forgotten-${id}`,
    title: name,
    meaning: [meaning],
  }));
  return reminders.length > 0 ? [hers, ...all] : all;
}

/** The cautions as they are served. */
export const cautionEntries = (cautions: readonly Caution[]): readonly GuideEntry[] =>
  cautions.map(({ topic, sentence, source }) => ({
    id: `caution-${topic.replaceAll(' ', '-')}`,
    title: topic.charAt(0).toUpperCase() + topic.slice(1),
    meaning: [reworded(sentence)],
    source,
  }));
