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
    how: 'Ashore, measure one side at 8 to 15 stations with plumb line and tape: the centreline of the hull without its keel, each chine and the sheer. Or paste a table, or start from a guess by her main dimensions.',
    exact: '5 to 10 mm',
    time: 'three hours for two',
    leftOut: 'the lines of a typical boat of her size; GM is then a guess',
  },
  {
    title: 'Her deck',
    picture: 'deck',
    section: 'deck',
    how: 'Lay a straight batten across the deck amidships. Measure how far the middle of the deck stands above its edge, and the half-breadth there. Take plate thickness from a drawing or with a gauge.',
    exact: '5 mm',
    time: 'ten minutes',
    leftOut: 'a camber of a thirtieth of the half-breadth',
  },
  {
    title: 'Keel and rudder',
    picture: 'keel',
    section: 'keel',
    how: 'Measure each from the side: its corners below the hull, along and down. Then its thickness along one level section.',
    exact: '10 mm, thickness 5 mm',
    time: 'half an hour',
    leftOut: 'a typical keel is assumed and marked so, and no criterion is judged',
  },
  {
    title: 'How she floats today',
    picture: 'freeboards',
    section: 'freeboards',
    paths: ['survey.marks', 'survey.water'],
    how: 'In a calm, measure straight down from the sheer to the water at three marks or more, on both sides. Note who and what was aboard.',
    exact: '3 to 5 mm; 5 mm is about one per cent of her weight',
    time: 'half an hour',
    leftOut: 'her weight is not known',
  },
  {
    title: 'Height of her centre of gravity',
    picture: 'height',
    section: 'freeboards',
    paths: ['survey.vcg', 'survey.inclining'],
    how: 'An inclining test: shift a known weight a known distance across, to both sides, and measure the heel each time.',
    exact: '0.05° of heel gives GM to 20 or 30 mm',
    time: 'two hours afloat',
    leftOut: 'assumed, to 100 mm or so; no criterion is judged',
  },
  {
    title: 'Old house and cockpit',
    picture: 'existing',
    section: 'existing',
    how: 'The length, heights and roof breadth of the house, and the depths of the well: what gives buoyancy and what floods today.',
    exact: '10 mm',
    time: 'half an hour',
    leftOut: 'a flush deck',
  },
  {
    title: 'What was aboard, and her tanks',
    picture: 'tanks',
    section: 'tanks',
    how: 'Measure each tank inside, and note what was in it that day. List the crew and gear that will not always be aboard.',
    exact: '20 mm in position, 5 % in litres',
    time: 'an hour',
    leftOut: 'no liquid can shift, and she is known only as surveyed',
  },
  {
    title: 'Openings',
    picture: 'openings',
    section: 'openings',
    how: 'Hatches, vents, windows and drains: pick their corners on the boat, then enter what closes them and where they lead.',
    exact: '20 mm',
    time: 'half an hour',
    leftOut: 'the angle of downflooding is not known',
  },
  {
    title: 'Rig',
    picture: 'rig',
    section: 'rig',
    how: 'The luff and foot of the mainsail, the height and base of the foretriangle, and the height of the sails’ centre of effort.',
    exact: '50 mm',
    time: 'ten minutes, from the sailmaker’s sheet',
    leftOut: 'rules that need the sail area are not judged',
  },
  {
    title: 'What comes off',
    picture: 'comes-off',
    section: 'changes',
    how: 'Weigh each thing on a hook or luggage scale, or take its weight from a receipt. Tape its position from one datum.',
    exact: '1 % of the weight, 20 mm along, 10 mm up',
    time: 'as it comes off',
    leftOut: 'nothing comes off',
  },
  {
    title: 'What goes on',
    picture: 'goes-on',
    section: 'changes',
    how: 'New weights come from a catalogue or drawing, new steel from a few dimensions that are proposed to fit her.',
    exact: '5 % from a catalogue',
    time: 'an evening',
    leftOut: 'she stays as she is',
  },
];
