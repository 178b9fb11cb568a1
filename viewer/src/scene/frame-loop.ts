/** When to draw: on demand only, and on a slow renderer with rests, so that answers come first. */

interface Means {
  readonly draw: () => void;
  /** Whether what was drawn last has reached the picture. */
  readonly finished: () => boolean;
  readonly nextFrame: (step: () => void) => number;
  readonly cancel: (frame: number) => void;
  readonly now: () => number;
}

/** As the browser draws. */
export const ON_SCREEN: Pick<Means, 'nextFrame' | 'cancel' | 'now'> = {
  nextFrame: (step) => requestAnimationFrame(step),
  cancel: (frame) => cancelAnimationFrame(frame),
  now: () => performance.now(),
};

/** A frame that takes longer is slow: no graphics processor, most likely [ms]. */
const SLOW_MS = 40;
/** On a slow renderer it rests so many times as long as it draws. */
const RESTS = 3;

export class FrameLoop {
  private readonly means: Means;
  private frame = 0;
  private asked: 'no' | 'soon' | 'now' = 'no';
  private drawing = false;
  private began = 0;
  private took = 0;

  constructor(means: Means) {
    this.means = means;
  }

  /** Asks for a new picture; one that the hand turns does not rest. */
  ask(how: 'soon' | 'now' = 'soon'): void {
    if (this.asked !== 'now') this.asked = how;
    this.wait();
  }

  stop(): void {
    this.means.cancel(this.frame);
  }

  private wait(): void {
    if (this.frame === 0) this.frame = this.means.nextFrame(() => this.step());
  }

  private step(): void {
    this.frame = 0;
    const now = this.means.now();
    if (this.drawing) {
      if (!this.means.finished()) {
        this.wait();
        return;
      }
      this.drawing = false;
      this.took = now - this.began;
    }
    if (this.asked === 'no') return;
    const rest = this.asked === 'soon' && this.took > SLOW_MS ? this.took * RESTS : 0;
    if (now >= this.began + this.took + rest) {
      this.asked = 'no';
      this.began = now;
      this.drawing = true;
      this.means.draw();
    }
    this.wait();
  }
}
