/** Marks set on a photograph, as the document has them and as they are being set. */
import { isWithin } from '../shared/answer/findings.ts';
import { at, type Mapping, mapping, numberOr, text, withValue } from '../shared/boat/document.ts';

export interface SetMark {
  /** Of an offered place, or the key of one of the owner's own. */
  readonly id: string;
  readonly at_percent: readonly [number, number];
  readonly place_m?: readonly number[];
}

/** A place that can be marked. */
export interface MarkedPlace {
  readonly id: string;
  readonly name: string;
  /** Where it is, of one of the owner's own. */
  readonly place_m?: readonly number[];
}

export type SetPlace = (place: MarkedPlace, at: readonly [number, number] | undefined) => void;

/** A photograph in the document. */
export interface Marked {
  readonly key: string;
  readonly file: string;
  readonly marks: readonly SetMark[];
}

/** Marks a camera needs; with more, a cropped picture and the lens are allowed for. */
export const FEWEST = 6;
export const ENOUGH = 8;

export const PHOTOGRAPHS = 'photographs';

/** The photographs of a document, with marks that are set but not answered yet. */
export function photographsIn(
  document: Mapping,
  drafts: ReadonlyMap<string, { readonly value: unknown }> = new Map(),
): readonly Marked[] {
  let drawn = document;
  for (const [path, { value }] of drafts)
    if (isWithin(path, PHOTOGRAPHS)) drawn = withValue(drawn, path.split('.'), value);
  return Object.entries(mapping(drawn[PHOTOGRAPHS])).map(([key, one]) => ({
    key,
    file: text(at(one, 'file')),
    marks: Object.entries(mapping(at(one, 'marks'))).flatMap(([id, mark]) => markIn(id, mark)),
  }));
}

function markIn(id: string, mark: unknown): readonly SetMark[] {
  const { at_percent: seen, place_m: place } = mapping(mark);
  if (!Array.isArray(seen)) return [];
  const own = Array.isArray(place) ? { place_m: place.map((one) => numberOr(one, 0)) } : {};
  return [{ id, at_percent: [numberOr(seen[0], 0), numberOr(seen[1], 0)], ...own }];
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
  { width, height }: { readonly width: number; readonly height: number },
): readonly [number, number] | undefined {
  const step = STEPS[pressed];
  const pixels = shift ? 10 : 1;
  return (
    step &&
    insidePicture([x + (step[0] * pixels * 100) / width, y + (step[1] * pixels * 100) / height])
  );
}

/** A place inside the picture, to a thousandth of a percent: a tenth of a pixel at most. */
export const insidePicture = ([x, y]: readonly [number, number]): readonly [number, number] => [
  inside(x),
  inside(y),
];

const inside = (percent: number) => Math.round(Math.min(100, Math.max(0, percent)) * 1000) / 1000;

/** A file name that no other picture has: pictures are identified by it. */
export function freeName(name: string, taken: readonly string[]): string {
  const [, stem = name, end = ''] = /^(.+?)(\.\w+)?$/.exec(name) ?? [];
  let number = 1;
  const tried = () => `${stem}${number > 1 ? ` ${number}` : ''}${end}`;
  while (taken.includes(tried())) number += 1;
  return tried();
}
