/** Marks set on a photograph, in its own pixels; kept by the browser for each photograph. */

import { mapping } from '../shared/boat/document.ts';

export interface SetMark {
  /** Of an offered place. */
  readonly id: string;
  readonly at_px: readonly [number, number];
}

/** Marks a camera needs. */
export const FEWEST = 6;

const key = (refit: string, photograph: string) => `photograph ${refit} ${photograph}`;

/** The marks as they were last set on a photograph. */
export function keptMarks(refit: string, photograph: string): readonly SetMark[] {
  try {
    return marksIn(JSON.parse(localStorage.getItem(key(refit, photograph)) ?? '[]'));
  } catch {
    return [];
  }
}

export function keepMarks(refit: string, photograph: string, marks: readonly SetMark[]): void {
  try {
    localStorage.setItem(key(refit, photograph), JSON.stringify(marks));
  } catch {
    // full or forbidden: they last as long as the page
  }
}

/** What of a kept text is marks. */
export const marksIn = (kept: unknown): readonly SetMark[] =>
  Array.isArray(kept) ? kept.flatMap(markIn) : [];

function markIn(one: unknown): readonly SetMark[] {
  const { id, at_px: at } = mapping(one);
  if (typeof id !== 'string' || !Array.isArray(at)) return [];
  const [x, y]: readonly unknown[] = at;
  return typeof x === 'number' && typeof y === 'number' ? [{ id, at_px: [x, y] }] : [];
}

/** The marks with one set, moved, or taken off where it has no place. */
export function withMark(
  marks: readonly SetMark[],
  id: string,
  at: readonly [number, number] | undefined,
): readonly SetMark[] {
  const others = marks.filter((m) => m.id !== id);
  if (at === undefined) return others;
  const mark = { id, at_px: at };
  return marks.some((m) => m.id === id)
    ? marks.map((m) => (m.id === id ? mark : m))
    : [...marks, mark];
}

const STEPS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** Where a key moves a mark: by a pixel, with Shift by ten; undefined where it moves none. */
export function markMoved(
  [x, y]: readonly [number, number],
  pressed: string,
  shift: boolean,
): readonly [number, number] | undefined {
  const step = STEPS[pressed];
  const times = shift ? 10 : 1;
  return step && [x + step[0] * times, y + step[1] * times];
}
