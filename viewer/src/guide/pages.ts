/** How to read each page: what it answers, what to press first, what is easily misread. */
import { NEED_A_SERVER, PAGES, type Page } from '../session/route.ts';
import { title } from '../shared/words/plain-words.ts';
import type { GuideEntry } from './entry.ts';

type AboutPage = readonly [answers: string, first: string, misread: string];

const ABOUT: Readonly<Record<Exclude<Page, 'guide'>, AboutPage>> = {
  start: [
    'What you have to measure to make her your own boat, step by step, and what each assumption costs until you have.',
    'Begin with her hull and her freeboards: without them every other figure rests on a guess.',
    'A figure that is assumed looks as good as one that was measured. The word beside it is the difference.',
  ],
  float: [
    'How will she float, is that what you asked for, and what does each change do to it?',
    'Choose condition and option at the top, then a change. Alter one dimension or move one weight, and watch the figures; Undo takes it back.',
    'Colour shows which way a change trims her, not whether it is good. The effects of the changes taken one by one need not add up to the effect of them all.',
  ],
  stability: [
    'How far can she heel and come back, where does the sea come in first, and what do the criteria say?',
    'Read the sentence first. Then heel her, and watch her openings and the lever.',
    'The AVS is not her range: an open vent may end it long before. “To be confirmed” is not met. All of it is calm water: no wind, no waves, nothing shifting.',
  ],
  ledger: [
    'Which weights come off, go on and move, how sure is each, and what do they come to?',
    'Enter what comes off together with what takes its place; it is what comes off that is forgotten.',
    'The ledger adds up what is in it. A line that is missing counts as nothing, and no ± covers it.',
  ],
  boat: [
    'What is known of her, and where did each figure come from?',
    'Open the section you have readings for; you can paste a table from a spreadsheet.',
    'Heights are measured from the DWL and places from the FP, not from the ground or the stem head.',
  ],
  photograph: [
    'What will the refit look like on her, in a photograph of your own?',
    'Photograph the whole boat, from a little forward or aft of abeam, and mark six or more places you can name, spread over her length and height.',
    'The picture is only as good as its marks: see by how many millimetres they are off before you trust a line.',
  ],
  cutting: [
    'Which plates are needed, how do they lie on the sheets, what is to be bought and lifted?',
    'Make the pack, then look at one plate flat and in the boat before you send anything.',
    'Outlines are finished sizes. A pack belongs to one state of the boat: after an edit, make it again. Cut nothing before the review is signed.',
  ],
  review: [
    'Who has seen which revision, what did they say, and does a signature still hold?',
    'Freeze a revision, then send its link or its file.',
    'A signature is for one revision. Whatever is edited later is not covered by it.',
  ],
  print: [
    'One sheet of figures to file or to take aboard, and files for other programs.',
    'Choose the condition first: the sheet is for that one.',
    'The date and the document’s hash say which state of the boat it shows. An old sheet shows an old state.',
  ],
};

/** Of the pages there are; one file has not all of them. */
export const readingPages = (inFile: boolean): readonly GuideEntry[] =>
  PAGES.filter((page) => page !== 'guide')
    .filter((page) => !(inFile && (page === 'start' || NEED_A_SERVER.includes(page))))
    .map((page) => {
      const [answers, first, misread] = ABOUT[page];
      return {
        id: `page-${page}`,
        title: title(page),
        meaning: [`What it answers: ${answers}`, `First: ${first}`, `Easily misread: ${misread}`],
      };
    });
