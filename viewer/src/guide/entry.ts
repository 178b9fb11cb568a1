/** What the Guide is made of: parts, each of entries with a name of their own in the address. */
import type { PictureName } from '../shared/input/pictures.tsx';

/** A drawing made of the boat herself. */
export type SketchName =
  | 'waterline'
  | 'centres'
  | 'trim'
  | 'flotation'
  | 'freeboards'
  | 'metacentre'
  | 'lever'
  | 'curve'
  | 'camber'
  | 'sides';

export interface GuideEntry {
  readonly id: string;
  readonly title: string;
  /** Other words it is looked for by. */
  readonly also?: string;
  /** Sentences of every boat. */
  readonly meaning: readonly string[];
  /** Sentences of this boat, in her own figures; none where she has none. */
  readonly own?: readonly string[];
  /** What to do, in order. */
  readonly steps?: readonly string[];
  readonly source?: string;
  readonly picture?: PictureName;
  readonly sketch?: SketchName;
}

export interface GuidePart {
  readonly id: string;
  readonly title: string;
  readonly about: string;
  readonly entries: readonly GuideEntry[];
}

/** What common knowledge of the trade rests on. */
export const NO_SOURCE = 'Common practice, no source.';
