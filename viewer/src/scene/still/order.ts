import type { Palette } from '../look/palette.ts';

/** A picture to be made: its size [px], the paper's colour (none: transparent), a line below it. */
export interface StillOrder {
  readonly width: number;
  /** As high as the view is to its width where it is not given. */
  readonly height?: number;
  readonly paper?: string | undefined;
  readonly caption?: string;
  /** The colours for that paper, where the page has others. */
  readonly palette?: Palette | undefined;
  /** Ends it before it is done; pixels alone take long. */
  readonly signal?: AbortSignal;
}
