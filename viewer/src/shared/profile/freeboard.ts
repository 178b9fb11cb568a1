/** What a freeboard opens, both sides of a mark and how much each changed; where its words stand. */
import type { ConditionResult, MarkFreeboard } from '../../contract.ts';
import type { Side } from '../boat/levers.ts';
import type { FlatPoint } from '../boat/points.ts';
import type { Scale } from '../boat/side-view.ts';
import type { Explained, ExplanationLine } from '../explain/explanation-card.tsx';
import { meaningOf } from '../words/meanings.ts';
import { quantity, signedAmount, withSpread } from '../words/numbers.ts';
import { plainWords } from '../words/plain-words.ts';

const under = (boat: ConditionResult, mark: string, side: Side, what = '') =>
  `conditions.${boat.id}.${boat.stage}.${what}freeboards.${mark}.${side}.freeboard_mm`;

/** Path of a freeboard. */
export const freeboardPath = (boat: ConditionResult, mark: string, side: Side) =>
  under(boat, mark, side);

export function freeboardExplained(boat: ConditionResult, at: MarkFreeboard): Explained {
  const own = boat.freeboards.filter((f) => f.mark === at.mark);
  const changed = (boat.change?.freeboards ?? []).filter((f) => f.mark === at.mark);
  return {
    title: `Freeboard ${plainWords(at.mark)}`,
    meaning: meaningOf('freeboard'),
    rows: [
      [
        'mean of both sides',
        quantity(at.mean_mm, 'mm', 1),
        `conditions.${boat.id}.${boat.stage}.freeboards_at_marks.${at.mark}.mean_mm`,
      ],
      ...own.map(
        (f): ExplanationLine => [
          f.side,
          withSpread(f.freeboard_mm, f.plus_minus_mm, 'mm', 1),
          under(boat, at.mark, f.side),
        ],
      ),
      ...changed.map(
        (f): ExplanationLine => [
          `change, ${f.side}`,
          `${signedAmount(f.freeboard_mm, 'mm', 1)} ± ${quantity(f.plus_minus_mm, 'mm', 1)}`,
          under(boat, at.mark, f.side, 'change.'),
        ],
      ),
    ],
  };
}

/** Whether there is room for words beside the numbers; without it the figures above say them. */
export const isRoomy = (scale: Scale) => scale.perMetre > 50;

/** Where the words of a mark stand: left or right, how far from it, how far up from the water [px]. */
export interface WordsPlace {
  readonly isLeft: boolean;
  readonly away: number;
  readonly up: number;
}

/** A mark on the drawing: where its line meets the water [px]. */
interface MarkSpot {
  readonly id: string;
  readonly spot: FlatPoint;
}

/** Half of what a handle covers [px]. */
const HANDLE = 13;
/** How far words stand from their line, the farther to be clear of a handle on it [px]. */
const AWAY = [7, 30];

/** Words of marks clear of one another and of handles, to the right and low where there is room. */
export function placesOfWords(
  marks: readonly MarkSpot[],
  scale: Scale,
  handles: readonly FlatPoint[],
): ReadonlyMap<string, WordsPlace> {
  const [wide, tall] = isRoomy(scale) ? [128, 34] : [70, 18];
  const taken = handles.map(([x, y]): Box => [x - HANDLE, y - HANDLE, x + HANDLE, y + HANDLE]);
  return new Map(
    marks.map(({ id, spot: [x, water] }) => {
      const usual = x > scale.width * 0.72;
      const all = [0, tall, 2 * tall].flatMap((up) =>
        AWAY.flatMap((away) =>
          [usual, !usual].map((isLeft) => {
            const left = isLeft ? x - away - wide : x + away;
            const box: Box = [left, water - up - tall, left + wide, water - up];
            return { isLeft, away, up, box };
          }),
        ),
      );
      const inside = all.filter(({ box }) => box[0] >= 0 && box[1] >= 0 && box[2] <= scale.width);
      const clear = inside.find(({ box }) => !taken.some((o) => meet(o, box)));
      const { box, ...place } = clear ?? inside[0] ?? NOWHERE;
      taken.push(box);
      return [id, place];
    }),
  );
}

/** Left, top, right, bottom. */
type Box = readonly [number, number, number, number];
const NOWHERE: WordsPlace & { readonly box: Box } = {
  isLeft: false,
  away: 0,
  up: 0,
  box: [0, 0, 0, 0],
};
const meet = (a: Box, b: Box) => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
