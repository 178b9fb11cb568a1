/** When to draw: on demand only, and on a slow renderer with rests, so that answers come first. */

interface Means {
  readonly draw: () => void;
  /** Whether what was drawn last has reached the picture. */
  readonly finished: () => boolean;
  readonly nextFrame: (step: () => void) => number;
  readonly cancel: (frame: number) => void;
  readonly now: () => number;
  /** Makes the picture finer while nothing moves; false where it is as fine as it gets. */
  readonly improve?: () => boolean;
  /** Told how long a picture took [ms]. */
  readonly took?: (ms: number) => void;
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
/** The picture is made finer when nothing was asked for so long [ms]; on a slow renderer later. */
const QUIET_MS = { fast: 120, slow: 700 } as const;

export class FrameLoop {
  private readonly means: Means;
  private frame = 0;
  private asked: 'no' | 'soon' | 'now' = 'no';
  private drawing = false;
  private began = 0;
  private took = 0;
  private ended = 0;
  private improving = false;

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
      this.end(now);
    }
    if (this.asked === 'no') {
      this.improve(now);
      return;
    }
    const rest = this.asked === 'soon' && this.took > SLOW_MS ? this.took * RESTS : 0;
    if (now >= this.began + this.took + rest) {
      this.asked = 'no';
      this.begin(now, false);
      this.means.draw();
    }
    this.wait();
  }

  private begin(now: number, improving: boolean): void {
    this.improving = improving;
    this.began = now;
    this.drawing = true;
  }

  private end(now: number): void {
    this.drawing = false;
    this.ended = now;
    if (this.improving) return;
    this.took = now - this.began;
    this.means.took?.(this.took);
  }

  /** One more picture towards a finer one, with rests on a slow renderer. */
  private improve(now: number): void {
    const { improve } = this.means;
    if (!improve) return;
    if (now < this.ended + this.pause()) {
      this.wait();
      return;
    }
    if (!improve()) return;
    this.begin(now, true);
    this.wait();
  }

  private pause(): number {
    const isSlow = this.took > SLOW_MS;
    if (this.improving) return isSlow ? this.took : 0;
    return isSlow ? QUIET_MS.slow : QUIET_MS.fast;
  }
}
