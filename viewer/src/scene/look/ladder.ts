/** How well she is drawn, by what draws: each step down costs less, and says what it leaves out. */
import type { Samples } from './average.ts';

/**
 * Drawn by a graphics processor; by the machine's own, which is plain while she moves; or by one
 * that is slow even so, without shadows.
 */
export type Rung = 'full' | 'software' | 'plain';

interface RungLook {
  /** Of what is drawn while she moves. */
  readonly moving: DrawingLook;
  /** Of what is drawn at rest, and averaged. */
  readonly resting: DrawingLook;
  readonly samples: Samples;
}

export interface DrawingLook {
  readonly shadows: boolean;
  /** Lines of their own width, not of one pixel. */
  readonly broad: boolean;
}

const FULL: DrawingLook = { shadows: true, broad: true };
const PLAIN: DrawingLook = { shadows: false, broad: false };

export const RUNGS: Readonly<Record<Rung, RungLook>> = {
  full: { moving: FULL, resting: FULL, samples: { wanted: 48, hasDome: true } },
  software: { moving: PLAIN, resting: FULL, samples: { wanted: 12, hasDome: false } },
  plain: {
    moving: PLAIN,
    resting: { shadows: false, broad: true },
    samples: { wanted: 4, hasDome: false },
  },
};

/** Where the middle one of the last frames takes longer she is drawn more plainly [ms]. */
const SLOW_MS: Readonly<Record<Rung, number>> = { full: 120, software: 300, plain: Infinity };
const LOWER: Readonly<Record<Rung, Rung>> = { full: 'software', software: 'plain', plain: 'plain' };
/** So many, so that a burst of other work does not decide. */
const JUDGED = 9;

export class Ladder {
  rung: Rung;
  /** What the last frames took [ms]. */
  took: readonly number[] = [];

  constructor(first: Rung) {
    this.rung = first;
  }

  /** Takes note of a frame; true where she is drawn more plainly from now on. */
  judge(ms: number): boolean {
    this.took = [...this.took, ms].slice(-JUDGED);
    if (this.took.length < JUDGED) return false;
    const middle = this.took.toSorted((a, b) => a - b)[Math.floor(JUDGED / 2)] ?? 0;
    if (middle <= SLOW_MS[this.rung]) return false;
    this.rung = LOWER[this.rung];
    this.took = [];
    return true;
  }
}

/** Whether the machine's own processor draws; asked of a canvas that is thrown away. */
export function isSoftware(): boolean {
  const gl = document.createElement('canvas').getContext('webgl2');
  const known = gl?.getExtension('WEBGL_debug_renderer_info');
  const name = gl && known ? String(gl.getParameter(known.UNMASKED_RENDERER_WEBGL)) : '';
  gl?.getExtension('WEBGL_lose_context')?.loseContext();
  return /swiftshader|llvmpipe|software|basic render/i.test(name);
}
