/** How to measure a boat: what to do, in order. */

import type { PictureName } from '../shared/input/pictures.tsx';
import { STEPS } from '../shared/input/steps.ts';
import { WATERS_KG_M3 } from '../shared/words/constants.ts';
import { reworded } from '../shared/words/sentences.ts';
import { type GuideEntry, NO_SOURCE } from './entry.ts';

/** How exact it is, as the page Start says it of the same step. */
function exactWords(picture: PictureName): string {
  const step = STEPS.find((one) => one.picture === picture);
  return step ? `Accuracy: ${step.exact}. Time: ${step.time}.` : '';
}

type MeasureDraft = Omit<GuideEntry, 'source'> & { readonly source?: string };

const DRAFTS: readonly MeasureDraft[] = [
  {
    id: 'measure-lines',
    title: 'Lines ashore',
    also: 'stations plumb line tape chine sheer offsets hull shape',
    picture: 'hull',
    meaning: [
      'Points of the centreline of the canoe body, of each chine and of the sheer, on one side, where the plate bends. Between them the lines are faired.',
      exactWords('hull'),
    ],
    steps: [
      'Check with a water hose how level she stands, along and across, and chock her so that she stays.',
      'Stretch a line on the ground along her centreline and mark 8 to 15 stations on it, closer together at the ends, where the lines bend most.',
      'Chalk the points on the hull at each station: centreline, each chine, sheer.',
      'Drop a plumb line from each point. Read three figures: along from the stem, out from the centreline, up from one level line.',
      'Read both ends of every line too: where it meets the stem and the transom.',
      'Tape a few straight distances from point to point. They check the readings, and the page shows which one is off.',
    ],
  },
  {
    id: 'measure-freeboards',
    title: 'Freeboards afloat',
    also: 'sheer water marks draught displacement',
    picture: 'freeboards',
    meaning: [
      'From the sheer straight down to the water, at three marks or more on both sides. They give displacement, LCG and list.',
      exactWords('freeboards'),
    ],
    steps: [
      'Choose a calm morning. Slacken the lines, take the fenders in, and put everything where it always is.',
      'Write down who and what is aboard and where, and what is in each tank.',
      'Mark the same places on both sides, near the bow, amidships and near the stern, and tape how far aft each is.',
      'From a dinghy, hold the tape straight down and wait for the ripples to even out. Read three times, and take the middle reading.',
      'Read the other side at once, with nobody moving about aboard, and the density of the water too.',
    ],
  },
  {
    id: 'measure-water',
    title: 'Density of the water',
    also: 'hydrometer salt fresh brackish',
    picture: 'water',
    meaning: [
      `Salt water is taken as ${WATERS_KG_M3.salt.toLocaleString('en')} kg/m³ and fresh as ${WATERS_KG_M3.fresh.toLocaleString('en')} kg/m³; harbours and rivers lie between. All of that difference goes into her displacement.`,
    ],
    steps: [
      'Draw a bucket from beside her, from about half her draught: rain and river water float on top.',
      'Let a hydrometer float free in it, without bubbles on it, and read at the level of the water, not at the rim that climbs the stem.',
      'Write down the density, the place, and the state of the tide.',
    ],
  },
  {
    id: 'measure-weights',
    title: 'Weights',
    also: 'hook scale luggage scale receipt catalogue mass',
    picture: 'comes-off',
    meaning: [
      'By hook scale, luggage scale, receipt or catalogue, and say which: a weighed figure is worth more than a brochure’s.',
      exactWords('comes-off'),
    ],
    steps: [
      'Hang the sling on the scale and set it to zero; then lift, and read when it hangs still.',
      'Empty and dry what holds water, or write down what was in it.',
      'Weigh small things together, by locker: one line of the ledger each.',
      'Weigh a long thing by its ends, the other end on a block of the same height: the sum is its weight.',
      'Weigh what was cut off, scrap and all. It is the other half of the account.',
    ],
  },
  {
    id: 'measure-places',
    title: 'Places',
    also: 'datum centre x y z tape position',
    picture: 'goes-on',
    meaning: [
      'Where the middle of each weight lies: along, to a side, and up. A tape from one marked datum is enough.',
    ],
    steps: [
      'Choose a datum that stays, such as the face of a bulkhead, and tape once how far aft of the FP and how far above the DWL it is.',
      'Read along from it, out from the centreline (port or starboard), and up.',
      'Take the middle of the weight, not of the outline: balance it on a broomstick where you can.',
      'If its place is not settled yet, enter the limits within which it may lie; on the Float page you can then drag it.',
    ],
  },
  {
    id: 'measure-inclining',
    title: 'Inclining test',
    also: 'GM VCG pendulum water tube moment heel stability test',
    picture: 'height',
    meaning: [
      'A known weight shifted a known distance across heels her by an angle that gives GM, and GM gives the height of her centre of gravity. Nothing else does.',
      exactWords('height'),
    ],
    steps: [
      'Choose a calm hour without current. Slacken the lines, take the gangway off, dry the bilge, lash what may swing, and leave tanks empty or full to the top.',
      'Read the freeboards and the water: the displacement of the test comes from them.',
      'Rig two pendulums as long as the cabin allows, their bobs in a bucket of water, or two water tubes across. The deflection over the length is the tangent of the heel.',
      'Bring weights that heel her one to two degrees, weighed, to the centreline. Everybody aboard has a fixed place, and goes back to it for every reading.',
      'Read upright. Shift some of the weight to starboard, measure how far, let her settle, read; then all of it. Do the same to port, and read upright again.',
      'Enter each moment (weight times distance) with its heel: three different moments at least, to both sides. The points should lie on a straight line; read one that does not again before you take the gear down.',
    ],
    source:
      'GM = w d / (displacement × tan heel): Derrett, Ship Stability for Masters and Mates (quoted elsewhere). Two pendulums at least: IMO 2008 IS Code, part B, annex 1 (quoted elsewhere). The rest: common practice, no source.',
  },
  {
    id: 'measure-list',
    title: 'List',
    also: 'water tube hose pendulum heel',
    picture: 'list',
    meaning: [
      'From the freeboards of both sides at one mark, or from a clear hose across her: the difference of the two water levels over the distance between them is the tangent of the list.',
    ],
    steps: [
      'Measure up from the same line of the deck or sole on both sides, as far apart as she allows.',
      'Let the water in the hose come to rest with both ends open and no bubble in it.',
      'Read both sides twice, changing the ends of the hose over: what stays the same is the list.',
    ],
  },
  {
    id: 'measure-openings',
    title: 'Openings',
    also: 'hatch vent window downflooding edge corners',
    picture: 'openings',
    meaning: [
      'Every edge that lets water in: hatches, companionway, vents, air pipes of tanks, windows that open.',
      exactWords('openings'),
    ],
    steps: [
      'Read the corners of the edge, along, out and up; for a vent the lip of its pipe, not its cowl.',
      'Enter what closes it, whether people leave it open at sea, and where it leads.',
      'Look below too: a vent in a locker that drains to the bilge leads into the hull.',
    ],
  },
];

/** The entries, their quantities as the reader wants them written. */
export const measuring = (): readonly GuideEntry[] =>
  DRAFTS.map((draft) => ({
    ...draft,
    meaning: draft.meaning.filter(Boolean).map(reworded),
    source: draft.source ?? NO_SOURCE,
  }));
