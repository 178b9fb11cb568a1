/** Keeping up with the boat: after an edit, when another view is chosen, when somebody else edits. */
import { lifted } from './gesture.ts';
import { type Loading, pause } from './loading.ts';
import type { SnapshotStore } from './snapshot.ts';

/** How long nothing is dragged before what can wait is asked for. */
export const QUIET_MS = 180;
/** How much longer a pointer rests on what it drags before her levers are asked for. */
const PAUSED_MS = 200;
/** How long a pointer may rest on what it drags before all of it is asked for. */
const HELD_MS = 1000;
const SAVED_WAITS_MS = [1500, 4000, 10000];

export class Following {
  private readonly loading: Loading;
  private readonly store: SnapshotStore;
  private readonly isSending: () => boolean;
  private quiet = new AbortController();
  private turning = new AbortController();
  /** The latest edit the server has spoken of. */
  private heardOf = 0;
  private isCatchingUp = false;

  constructor(loading: Loading, store: SnapshotStore, isSending: () => boolean) {
    this.loading = loading;
    this.store = store;
    this.isSending = isSending;
  }

  /** Leaves the quiet second answer: something newer is on its way. */
  interrupt(): void {
    this.quiet.abort();
  }

  /** Hears that the boat is at an edit by now; what is being set here comes first. */
  heard(edit: number): void {
    if (this.loading.isFrozen) return;
    this.heardOf = Math.max(this.heardOf, edit);
    if (!this.isCatchingUp) void this.catchUp();
  }

  /** Nothing is being calculated or dragged: announced once, not at every step. */
  async rest(): Promise<void> {
    await lifted(HELD_MS);
    if (!this.isSending()) this.store.change({ busy: false });
  }

  /** Shows what is looked at by now: the chosen condition first, then all of it. */
  async turnTo(): Promise<void> {
    this.turning.abort();
    this.turning = new AbortController();
    const { signal } = this.turning;
    const { isFrozen } = this.loading;
    this.store.change({ busy: true });
    if (!isFrozen) await this.loading.load(signal, false);
    if (signal.aborted) return;
    if (!isFrozen) this.store.change({ busy: this.isSending() });
    await this.follow(0);
    if (!signal.aborted) this.store.change({ busy: this.isSending() });
  }

  /** The quiet second answer: every condition and item, then the record of the solids. */
  async follow(wait: number): Promise<void> {
    const signal = this.begin();
    await pause(wait);
    if (!signal.aborted && this.loading.lacksLevers) {
      await lifted(PAUSED_MS);
      if (!signal.aborted) await this.loading.load(signal, false);
    }
    if (wait > 0) await lifted(HELD_MS);
    if (!signal.aborted) await this.loading.load(signal, true);
    if (!signal.aborted) await this.loading.readRecord(signal);
    await this.untilSaved(signal);
  }

  /** Asks whether it is saved: word of it may have been missed. */
  private async untilSaved(signal: AbortSignal): Promise<void> {
    for (const patience of SAVED_WAITS_MS) {
      if (signal.aborted || this.isSaved) return;
      await pause(patience);
      if (!signal.aborted && !this.isSaved) await this.loading.load(signal, true);
    }
  }

  private get isSaved(): boolean {
    return this.store.present.savedEdit >= this.store.edit;
  }

  private begin(): AbortSignal {
    this.quiet.abort();
    this.quiet = new AbortController();
    return this.quiet.signal;
  }

  /** Shows what others have changed, one answer after another, then all of it. */
  private async catchUp(): Promise<void> {
    this.isCatchingUp = true;
    let before = -1;
    while (this.heardOf > this.store.edit && this.store.edit > before && !this.isSending()) {
      before = this.store.edit;
      await this.loading.load(this.begin(), false);
    }
    this.isCatchingUp = false;
    if (before >= 0 && !this.isSending()) await this.follow(QUIET_MS);
  }
}
