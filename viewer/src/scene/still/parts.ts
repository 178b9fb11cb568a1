/** What a still picture is made of: the view as it stands, and what is asked for. */
import type { Afloat } from '../afloat.ts';
import type { Camera } from '../camera.ts';
import type { Renderer } from '../look/drawing.ts';
import type { Finishes } from '../look/finishes.ts';
import type { Stroke } from '../look/strokes.ts';
import type { Pieces } from '../pieces.ts';
import type { Section } from '../section.ts';

/** A picture to be made: its size [px], the paper's colour (none: transparent), a line below it. */
export interface StillOrder {
  readonly width: number;
  /** As high as the view is to its width where it is not given. */
  readonly height?: number;
  readonly paper?: string | undefined;
  readonly caption?: string;
}

/** What a view is made of. */
export interface ViewParts {
  readonly canvas: HTMLCanvasElement;
  readonly camera: Camera;
  readonly drawing: Renderer;
  readonly pieces: Pieces;
  readonly afloat: Afloat;
  readonly finishes: Finishes;
  readonly section: Section | undefined;
  readonly strokes: readonly Stroke[];
  /** Readies all that is drawn, lines so many times as broad. */
  readonly prepare: (times: number) => void;
}
