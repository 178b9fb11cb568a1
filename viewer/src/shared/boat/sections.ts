/** The sections a boat is entered in, in the order they are best entered. */

export const SECTION_IDS = [
  'boat',
  'lines',
  'deck',
  'keel',
  'existing',
  'freeboards',
  'aboard',
  'tanks',
  'openings',
  'rig',
  'person',
  'photographs',
  'conditions',
  'targets',
  'changes',
  'options',
  'stock',
  'trials',
  'hydrostatics',
] as const;
export type SectionId = (typeof SECTION_IDS)[number];

export const isSectionId = (word: string): word is SectionId =>
  SECTION_IDS.some((id) => id === word);

interface BoatSection {
  readonly title: string;
  /** What it is for, in a sentence. */
  readonly about: string;
  /** Paths of the document that are entered in it. */
  readonly paths: readonly string[];
}

export const SECTIONS: Readonly<Record<SectionId, BoatSection>> = {
  boat: {
    title: 'Boat and water',
    about: 'Her name, what she is meant for, and the water she sails in.',
    paths: ['boat', 'water', 'allowances', 'titles'],
  },
  lines: {
    title: 'Hull lines',
    about: 'Points of each line, from stem to transom on one side, as read ashore.',
    paths: ['hull.length_waterline_m', 'hull.lines', 'hull.from', 'hull.taped', 'hull.read_again'],
  },
  deck: {
    title: 'Deck and plating',
    about: 'The camber of the deck, and the thickness of the plating.',
    paths: ['hull.deck', 'hull.plating'],
  },
  keel: {
    title: 'Keel and rudder',
    about: 'Each seen from the side, with its thickness along the chord.',
    paths: ['hull.appendages'],
  },
  existing: {
    title: 'House and cockpit as found',
    about: 'Parts that float or flood in the boat as she is; a change can replace one.',
    paths: ['existing'],
  },
  freeboards: {
    title: 'Freeboards and stability',
    about: 'Read afloat in a calm, both sides; and how high her centre of gravity lies.',
    paths: [
      'survey.water',
      'survey.plus_minus_m',
      'survey.marks',
      'survey.vcg',
      'survey.inclining',
    ],
  },
  aboard: {
    title: 'Aboard at the survey',
    about: 'What was aboard that day, so that it can be removed, and the known weights in her.',
    paths: ['survey.aboard', 'weights'],
  },
  tanks: {
    title: 'Tanks and voids',
    about:
      'Tanks for liquids, spaces for ballast, and the compartments between watertight bulkheads.',
    paths: ['tanks', 'voids', 'hull.compartments'],
  },
  openings: {
    title: 'Openings',
    about: 'Hatches, windows, vents: everything that lets water in when it goes under.',
    paths: ['openings'],
  },
  rig: { title: 'Rig', about: 'Mast and sails; all of it may be left out.', paths: ['rig'] },
  person: {
    title: 'Person aboard',
    about:
      'Height of a person, the cabin sole and the helm: headroom and the line of sight follow.',
    paths: ['person'],
  },
  photographs: {
    title: 'Photographs',
    about:
      'Photographs of her, and where known places appear in each. Mark them on the Photograph page.',
    paths: ['photographs'],
  },
  conditions: {
    title: 'Loading conditions',
    about: 'How she is loaded: tanks filled, crew and stores aboard, wells flooded.',
    paths: ['conditions', 'reference_condition'],
  },
  targets: {
    title: 'Targets',
    about: 'What you aim for: trim, freeboard, GM, range of stability.',
    paths: ['targets'],
  },
  changes: {
    title: 'Changes',
    about: 'What the refit removes, adds and moves; the Ledger shows it all in one table.',
    paths: ['changes'],
  },
  options: {
    title: 'Options',
    about: 'Other versions of the refit. Choose one above, and what you change is kept in it.',
    paths: ['options'],
  },
  stock: {
    title: 'Stock and cutting',
    about: 'Plate and bar that can be bought, and what is agreed with the cutter.',
    paths: ['stock', 'cutting'],
  },
  trials: { title: 'Rolls timed', about: 'Before the refit and after it.', paths: ['trials'] },
  hydrostatics: {
    title: 'Hydrostatics',
    about: 'What follows from the lines, at the design waterline.',
    paths: [],
  },
};

/** The section a value of the document is entered in; undefined where none has it. */
export const sectionOf = (path: string): SectionId | undefined =>
  SECTION_IDS.find((id) =>
    SECTIONS[id].paths.some((one) => path === one || path.startsWith(`${one}.`)),
  );
