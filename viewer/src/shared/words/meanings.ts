/** What the trade terms mean: written here once, shown by the Guide, by terms and by opened figures. */

interface TermMeaning {
  readonly title: string;
  /** Sentences true of every boat, the shortest account first. */
  readonly meaning: readonly string[];
}

export const TERMS = {
  displacement: {
    title: 'Displacement',
    meaning: [
      'Her mass, which is also the mass of the water she pushes aside: know one and you know the other.',
      'As found it comes from the freeboards read afloat and the measured shape of her hull; the refit then adds and takes off the weights of the ledger, line by line.',
    ],
  },
  lcg: {
    title: 'LCG and LCB',
    meaning: [
      'LCG, the longitudinal centre of gravity, is where all her weight acts along the boat; LCB, the longitudinal centre of buoyancy, is where her buoyancy acts. Both are measured aft from the forward perpendicular (FP).',
      'At rest the two stand in one vertical line. Move weight aft and she trims by the stern until the LCB has followed.',
    ],
  },
  vcg: {
    title: 'VCG',
    meaning: [
      'The vertical centre of gravity: its height above the design waterline (DWL). The lower it lies, the stiffer she is and the farther she can heel and still come back.',
      'Neither a tape nor a freeboard shows it: it takes an inclining test. Until there has been one, the VCG is whatever you enter.',
    ],
  },
  dwl: {
    title: 'DWL and perpendiculars',
    meaning: [
      'The design waterline (DWL) is the level her lines were drawn or measured to. It is fixed in the boat: heights are measured from it, whether she floats there or not.',
      'The forward perpendicular (FP) stands where the DWL meets the stem, the after perpendicular (AP) where it ends aft. Places along the boat are measured aft from the FP.',
    ],
  },
  sinkage: {
    title: 'Sinkage',
    meaning: [
      'How much deeper than the design waterline (DWL) she lies; higher means that the DWL shows above the water. It is read amidships, half-way between the perpendiculars, and at both of them.',
      'Freeboard goes the other way: as she sinks, she loses freeboard.',
    ],
  },
  trim: {
    title: 'Trim',
    meaning: [
      'How much deeper one end lies than the other, between the perpendiculars. By the stern: the stern lies deeper.',
      'Weight forward or aft of the LCF trims her. Errors in the boat as found are in the old trim and in the new, so the change is known better than either.',
    ],
  },
  list: {
    title: 'List',
    meaning: [
      'The heel she keeps at rest because weight lies off the centreline. Heel is the word for any inclination, such as that under sail.',
      'A boat that is unstable upright lolls instead: she lies over to either side with all her weight in the middle. Never try to correct that by shifting weight to the high side; bring weight down.',
    ],
  },
  freeboard: {
    title: 'Freeboard',
    meaning: [
      'The height of the sheer above the water at a mark, measured straight down, as the mean of both sides. Freeboards can be measured afloat, so they show what she weighs and whether a prediction came true.',
    ],
  },
  immersion: {
    title: 'Immersion',
    meaning: [
      'The weight that sinks her bodily by one centimetre, or one inch. It grows with the area of her waterplane. Put it over the LCF, or she trims too.',
    ],
  },
  mtc: {
    title: 'MTC',
    meaning: [
      'The moment that changes her trim by one centimetre, or one inch. A moment is a weight times the distance it is moved along the boat, or times its distance from the LCF if it comes aboard.',
    ],
  },
  lcf: {
    title: 'LCF',
    meaning: [
      'The longitudinal centre of flotation: the middle of the area of her waterplane, and the point about which she trims. Weight put right over it sinks her without trim; aft of it the stern goes down, forward of it the bow.',
      'The balance beam on the Float page pivots on it.',
    ],
  },
  gm: {
    title: 'KM and GM',
    meaning: [
      'GM is the metacentric height: the distance from her centre of gravity G up to the metacentre M, the point through which her buoyancy acts when she heels a little. KM is the height of M, measured from the DWL here, as all heights are.',
      'The larger the GM, the stiffer she is and the quicker she rolls; below zero she does not stay upright. It describes small heels only, and is given for the boat held upright, with the liquids in her tanks free to move.',
    ],
  },
  gz: {
    title: 'GZ, the righting lever',
    meaning: [
      'Her weight acts down through G, her buoyancy up through its centre B. Heeled, the two lines lie apart: that distance is GZ. Times her weight it is the moment that rights her.',
      'The curve of GZ over heel shows all of it at once: its slope at the start (per radian) is GM, its highest point the maximum GZ, its end the angle of vanishing stability.',
    ],
  },
  avs: {
    title: 'AVS',
    meaning: [
      'The angle of vanishing stability: the heel at which GZ has fallen to nothing. Beyond it she turns over by herself.',
      'It is given with the buoyancy of her deckhouse and without it, as if the house flooded at once: the house helps only while its shell, windows and doors are as strong and tight as the hull.',
    ],
  },
  downflooding: {
    title: 'Downflooding',
    meaning: [
      'The heel at which the first opening that leads into the hull and that nothing closes goes under. From there on she fills, and the curve means nothing.',
      'Hatches and boards that people leave open at sea are listed beside it.',
    ],
  },
  range: {
    title: 'Range',
    meaning: [
      'How far she can heel and still come back: to the AVS or to downflooding, whichever comes first. With an open vent that goes under before it, a large AVS is worth no more than the vent.',
    ],
  },
  'roll-period': {
    title: 'Roll period',
    meaning: [
      'The seconds of one roll from side to side and back, estimated from her beam and GM. A stiff boat rolls quickly. The estimate is rough: use it to compare before and after.',
    ],
  },
  camber: {
    title: 'Camber',
    meaning: [
      'The crown of a deck or a roof: how much higher its middle stands than its edge. It sheds water and stiffens the plate.',
    ],
  },
  tumblehome: {
    title: 'Tumblehome and flare',
    meaning: [
      'A side that leans inwards as it goes up has tumblehome; one that leans outwards has flare. House sides lean in too, which is given in degrees from upright.',
      'In the drawing, a side that bulges outside the upright line through the deck’s edge has tumblehome; one that stays inside it has flare.',
    ],
  },
} as const satisfies Record<string, TermMeaning>;

export type TermId = keyof typeof TERMS;

/** Which term a figure at the top stands for, where its name differs. */
const FIGURES: Readonly<Record<string, TermId>> = {
  mass: 'displacement',
  bow: 'sinkage',
  midships: 'sinkage',
  stern: 'sinkage',
};

const isTerm = (id: string): id is TermId => Object.hasOwn(TERMS, id);

/** What a figure or a term means, in the words of the Guide; empty where it has none. */
export function meaningOf(id: string): string {
  const term = FIGURES[id] ?? id;
  return isTerm(term) ? TERMS[term].meaning.join(' ') : '';
}

/** The entry of the Guide about a figure, by the last words of its path in the answer. */
const GUIDE_ENTRIES: readonly (readonly [end: RegExp, entry: TermId])[] = [
  [/displacement_kg$/, 'displacement'],
  [/(centre_of_gravity_m\.x|lcg_m|lcb_m)$/, 'lcg'],
  [/(centre_of_gravity_m\.z|vcg_m|vcg_mm)$/, 'vcg'],
  [/sinkage(_bow|_stern)?_mm$/, 'sinkage'],
  [/trim_mm$/, 'trim'],
  [/heel_deg$/, 'list'],
  [/^conditions\..*(freeboard_mm|freeboards_at_marks\..*)$/, 'freeboard'],
  [/kg_per_cm$/, 'immersion'],
  [/trim_moment_kgm_per_cm$/, 'mtc'],
  [/lcf_m$/, 'lcf'],
  [/\b(gm|gm_solid|gm_at_rest|km)_mm?$/, 'gm'],
  [/(greatest_gz_m|greatest_gz_at_deg|\.gz_m\.\d+)$/, 'gz'],
  [/vanishing_angle(_[a-z_]+)?_deg$/, 'avs'],
  [/downflooding_[a-z_]+_deg$/, 'downflooding'],
  [/range_deg$/, 'range'],
  [/length_waterline_m$/, 'dwl'],
  [/camber_m$/, 'camber'],
];

/** The entry of the Guide on the figure at a path; undefined where it has none. */
export const guideEntryOf = (path: string): TermId | undefined =>
  GUIDE_ENTRIES.find(([end]) => end.test(path))?.[1];
