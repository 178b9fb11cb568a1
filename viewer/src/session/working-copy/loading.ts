/** Reading the boat as she is on the server, and taking what it answers. */
import type { Working } from '../../contract.ts';
import { withEffects } from '../../shared/answer/effects.ts';
import { floatsIn } from '../../shared/answer/floats.ts';
import { plainWords } from '../../shared/words/plain-words.ts';
import * as api from '../api.ts';
import type { SnapshotStore } from './snapshot.ts';

const RECORD_WAITS_MS = [150, 250, 400, 700, 1200, 2000, 4000, 8000];
const LONGEST_RECORD_WAIT_MS = 16000;

export const pause = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

export const wordsOf = (error: unknown): string =>
  error instanceof Error ? error.message : 'Something went wrong, for an unknown reason.';

export class Loading {
  readonly refit: string;
  /** What is looked at. */
  view: api.View;
  /** Whether levers are shown: answers then carry them too, except during a drag. */
  levers = false;
  private readonly store: SnapshotStore;
  private readonly answers: () => void;
  /** The latest edit that was answered of what is looked at. */
  private newest = 0;

  /** Calls back whenever the server has answered. */
  constructor(refit: string, view: api.View, store: SnapshotStore, answers: () => void) {
    this.refit = refit;
    this.view = view;
    this.store = store;
    this.answers = answers;
  }

  get isFrozen(): boolean {
    return this.view.revision !== undefined;
  }

  /** Whether levers are shown but the answer, made during a drag, carries none. */
  get lacksLevers(): boolean {
    const { working } = this.store.present;
    if (!this.levers || !working?.partial) return false;
    return floatsIn(working.assessment).some((row) => row.righting_levers === null);
  }

  /** Looks at something else; answers of another revision are not older than these. */
  look(view: api.View): void {
    if (view.revision !== this.view.revision) this.newest = 0;
    this.view = view;
  }

  /** Reads what is looked at; `full` with every condition and item. */
  async load(signal: AbortSignal, full: boolean): Promise<void> {
    try {
      const working = await api.read(this.refit, this.view, { full, levers: this.levers }, signal);
      if (signal.aborted || working.edit < this.newest) return;
      this.store.change({ since: undefined });
      this.take(working);
    } catch (error) {
      if (!signal.aborted) this.notLoaded(error);
    }
  }

  /** Shows an answer. */
  take(answer: Working): void {
    const { present } = this.store;
    const assessment = withEffects(answer.assessment, present.working?.assessment);
    const working = { ...answer, assessment };
    const effects = new Map(present.effects);
    for (const item of assessment.items) if (item.effect) effects.set(item.path, item.effect);
    const full = working.partial ? present.full : working;
    this.newest = working.edit;
    this.store.change({ working, full, effects, problem: undefined, stuck: '', away: '' });
    if (answer.saved) this.saved(answer.edit);
    this.answers();
  }

  /** Hears that an edit stands in the boat's file. */
  saved(edit: number): void {
    if (edit > this.store.present.savedEdit) this.store.change({ savedEdit: edit });
  }

  /** Whether the option that was chosen is gone; a notice then says so. */
  isGone(error: api.Refusal, more = ''): boolean {
    const gone = this.view.option;
    if (error.problem.code !== 'unknown-option' || gone === null) return false;
    const words = `The option ${plainWords(gone)} is gone: it was renamed or deleted elsewhere.`;
    this.store.change({ gone, notice: `${words} This is the base design.${more}` });
    return true;
  }

  /** Reads what the solids weigh, again and again until they are weighed. */
  async readRecord(signal: AbortSignal): Promise<void> {
    if (this.isFrozen) {
      this.store.change({ record: this.store.present.working?.assessment.record });
      return;
    }
    const waits = RECORD_WAITS_MS.values();
    while (await this.isRecordPending(signal)) {
      await pause(waits.next().value ?? LONGEST_RECORD_WAIT_MS);
    }
  }

  private async isRecordPending(signal: AbortSignal): Promise<boolean> {
    if (signal.aborted) return false;
    try {
      const { edit, record } = await api.record(this.refit, this.view);
      if (signal.aborted) return false;
      if (edit === this.store.edit) this.store.change({ record, recordTrouble: '' });
      return record.state === 'pending';
    } catch (error) {
      if (!signal.aborted) this.store.change({ recordTrouble: wordsOf(error) });
      return false;
    }
  }

  private notLoaded(error: unknown): void {
    if (error instanceof api.Unreachable) this.store.change({ away: error.message });
    else if (!(error instanceof api.Refusal)) this.store.change({ notice: wordsOf(error) });
    else if (!this.isGone(error)) this.refused(error);
  }

  private refused(problem: api.Refusal): void {
    const isShown = this.store.present.working !== undefined;
    this.store.change(isShown ? { stuck: wordsOf(problem) } : { problem });
  }
}
