/** The steps of entering a boat: how each is measured, how exact, how long it takes. */
import type { SectionId } from '../boat/sections.ts';
import type { PictureName } from './pictures.tsx';

export interface Step {
  readonly title: string;
  readonly picture: PictureName;
  /** Where it is entered. */
  readonly section: SectionId;
  /** Of that section, where it is not all. */
  readonly paths?: readonly string[];
  readonly how: string;
  readonly exact: string;
  readonly time: string;
  readonly leftOut: string;
}

export const AT_HAND: readonly string[] = [
  'two tapes, 10 and 30 m, and a helper',
  'a plumb line, a long straight batten, chalk',
  'a clear hose of 10 m with water in it, for levels and for heel',
  'a hook scale (300 kg) and a luggage scale',
  'receipts and data sheets of what comes off and goes on',
  'a calm morning afloat, with everything aboard where it always is',
  'a camera, and paper that may get wet',
];

export const STEPS: readonly Step[] = [
  {
    title: 'Her hull',
    picture: 'hull',
    section: 'lines',
    how: 'Ashore, at 8 to 15 stations, on one side: the centreline of the canoe body, each chine and the sheer, by plumb line and tape. Or paste a table, or begin with a guess from her main dimensions.',
    exact: '5 to 10 mm',
    time: 'three hours for two',
    leftOut: 'lines of a usual boat of her size; GM is then a guess',
  },
  {
    title: 'Her deck',
    picture: 'deck',
    section: 'deck',
    how: 'A straight batten across the deck amidships: how high the middle stands above the edge, and the half-breadth there. Plate thickness by drawing or gauge.',
    exact: '5 mm',
    time: 'ten minutes',
    leftOut: 'a camber of a thirtieth of the half-breadth',
  },
  {
    title: 'Keel and rudder',
    picture: 'keel',
    section: 'keel',
    how: 'Each from the side: the corners below the hull, along and down. Then how thick it is along one level section.',
    exact: '10 mm, thickness 5 mm',
    time: 'half an hour',
    leftOut: 'never in silence: a usual keel is assumed, and no criterion is judged',
  },
  {
    title: 'How she floats today',
    picture: 'freeboards',
    section: 'freeboards',
    paths: ['survey.marks', 'survey.water'],
    how: 'In a calm, both sides, from the sheer straight down to the water at three marks or more. Note who and what was aboard.',
    exact: '3 to 5 mm; 5 mm is about one per cent of her weight',
    time: 'half an hour',
    leftOut: 'her weight is not known',
  },
  {
    title: 'Height of her centre of gravity',
    picture: 'height',
    section: 'freeboards',
    paths: ['survey.vcg', 'survey.inclining'],
    how: 'An inclining test: a known weight shifted across by a known way, both sides, and the heel each time.',
    exact: '0.05° of heel gives GM to 20 or 30 mm',
    time: 'two hours afloat',
    leftOut: 'assumed to 100 mm; criteria are not judged',
  },
  {
    title: 'Old house and cockpit',
    picture: 'existing',
    section: 'existing',
    how: 'Length, heights, breadth of the roof, and the depths of the well: what floats and what floods today.',
    exact: '10 mm',
    time: 'half an hour',
    leftOut: 'a flush deck',
  },
  {
    title: 'What was aboard, and her tanks',
    picture: 'tanks',
    section: 'tanks',
    how: 'Each tank inside, and what was in it that day. Crew and gear that will not always be aboard.',
    exact: '20 mm of place, 5 % of litres',
    time: 'an hour',
    leftOut: 'no liquid moves, and every condition is the survey',
  },
  {
    title: 'Openings',
    picture: 'openings',
    section: 'openings',
    how: 'Hatches, vents, windows, drains: press their corners on the boat, say what shuts them and where they lead.',
    exact: '20 mm',
    time: 'half an hour',
    leftOut: 'no angle of downflooding is claimed',
  },
  {
    title: 'Rig',
    picture: 'rig',
    section: 'rig',
    how: 'Luff and foot, height and base of the foretriangle, height of the sails’ centre.',
    exact: '50 mm',
    time: 'ten minutes, from the sailmaker’s sheet',
    leftOut: 'rules that ask for sail area are not answered',
  },
  {
    title: 'What comes off',
    picture: 'comes-off',
    section: 'changes',
    how: 'Each weight by hook scale, luggage scale or receipt; its place by tape from one datum.',
    exact: '1 % of the weight, 20 mm along, 10 mm up',
    time: 'as it comes off',
    leftOut: 'nothing comes off',
  },
  {
    title: 'What goes on',
    picture: 'goes-on',
    section: 'changes',
    how: 'New weights from catalogue or drawing; new steel from a few dimensions, proposed to fit her.',
    exact: '5 % from a catalogue',
    time: 'an evening',
    leftOut: 'she stays as she is',
  },
];
