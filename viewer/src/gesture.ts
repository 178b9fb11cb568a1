/** Edits of one drag, or of one run of key presses, belong together: one step of undo. */

const PAUSE_MS = 900;
let counted = 0;

export class Gesture {
  private id = '';
  private last = -Infinity;
  private held = false;

  /** A new gesture begins with the press of a pointer and lasts until it is lifted. */
  press(): void {
    this.begin();
    this.held = true;
  }

  lift(): void {
    this.held = false;
    this.last = -Infinity;
  }

  /** The gesture that an edit now belongs to. */
  now(): string {
    const time = performance.now();
    if (!this.held && time - this.last > PAUSE_MS) this.begin();
    this.last = time;
    return this.id;
  }

  private begin(): void {
    counted += 1;
    this.id = `${Math.round(performance.timeOrigin)}-${counted}`;
  }
}
