/** Edits of one drag, or of one run of key presses, belong together: one step of undo. */

const PAUSE_MS = 900;
let counted = 0;
/** What a pointer holds: a slider beside the drawing, or something in the drawing itself. */
type HeldPlace = 'slider' | 'drawing';
let held: HeldPlace | undefined;
const waiting: (() => void)[] = [];

/** Whether a pointer is held down on what it drags. */
export const isHeld = (): boolean => held !== undefined;

/** What is held, as a drawing's frame needs it: it stands still under a hand that is in it. */
export const holding = () => ({ held: isHeld(), still: held === 'drawing' });

/** When no pointer is held down any more, or after a time at most. */
export const lifted = (atMost: number) =>
  new Promise<void>((done) => {
    if (!held) return done();
    const timer = setTimeout(done, atMost);
    waiting.push(() => {
      clearTimeout(timer);
      done();
    });
  });

export class Gesture {
  private id = '';
  private last = -Infinity;

  /** A new gesture begins with the press of a pointer and lasts until it is lifted. */
  press(place: HeldPlace = 'slider'): void {
    this.begin();
    held = place;
  }

  lift(): void {
    held = undefined;
    this.last = -Infinity;
    for (const done of waiting.splice(0)) done();
  }

  /** The gesture that an edit now belongs to. */
  now(): string {
    const time = performance.now();
    if (!held && time - this.last > PAUSE_MS) this.begin();
    this.last = time;
    return this.id;
  }

  private begin(): void {
    counted += 1;
    this.id = `${Math.round(performance.timeOrigin)}-${counted}`;
  }
}
