/** Sending edits one after another: what was refused, overtaken, or could not be sent. */
import type { Problem, Working } from '../../contract.ts';
import { at } from '../../shared/boat/document.ts';
import * as api from '../api.ts';
import { type EditQueue, editQueue } from './edit-queue.ts';
import { type Loading, wordsOf } from './loading.ts';
import { NOT_SENT, type SnapshotStore, withoutPaths } from './snapshot.ts';

/** What is to be sent. */
export interface Change {
  readonly label: string;
  readonly paths: readonly string[];
  readonly gesture?: string | null;
  readonly run: (edit: number, view: api.View) => Promise<Working>;
  /** Whether something is gone by it that the reader may want back. */
  readonly deletes?: boolean;
  /** Hears why it was not taken, nothing where it was; else the reasons are kept by path. */
  readonly reply?: (why: readonly string[]) => void;
}

interface Sent extends Change {
  readonly turn: number;
  readonly since: number;
  /** The option it is meant under, whichever is looked at when it is sent. */
  readonly option: string | null;
}

const TRIES = 5;
const FROZEN = 'A frozen revision cannot be edited.';

export class Sending {
  private readonly loading: Loading;
  private readonly store: SnapshotStore;
  private turn = 0;
  private unsent: readonly Sent[] = [];
  private readonly queue: EditQueue<Sent>;

  /** Calls back when nothing is in flight any more. */
  constructor(loading: Loading, store: SnapshotStore, settled: () => void) {
    this.loading = loading;
    this.store = store;
    this.queue = editQueue<Sent, Working>({
      send: (sent) => this.send(sent),
      answered: (sent, working) => this.answered(sent, working),
      failed: (sent, error) => this.failed(sent, error),
      settled,
    });
  }

  get isBusy(): boolean {
    return this.queue.busy;
  }

  get nextTurn(): number {
    return this.turn + 1;
  }

  /** Whether it is sent, or waits to be: a frozen revision takes nothing. */
  push(change: Change): boolean {
    if (this.loading.isFrozen) {
      change.reply?.([FROZEN]);
      this.store.change({ notice: FROZEN });
      return false;
    }
    this.turn += 1;
    this.store.change({ busy: true });
    const { option } = this.loading.view;
    this.queue.push({ ...change, turn: this.turn, since: performance.now(), option });
    return true;
  }

  /** The server answers again: what waited for it is sent, in order. */
  sendUnsent(): void {
    const waiting = this.unsent;
    if (waiting.length === 0) return;
    this.keepUnsent([]);
    this.store.change({ busy: true });
    for (const sent of waiting) this.queue.push({ ...sent, since: performance.now() });
  }

  /** Sends, and again where somebody else's edit came first and left these values alone. */
  private async send(sent: Sent): Promise<Working> {
    for (let tries = 1; ; tries += 1) {
      const before = this.standing(sent.paths);
      try {
        return await sent.run(this.store.edit, { ...this.loading.view, option: sent.option });
      } catch (error) {
        const mayTry = isOvertaken(error) && before.length > 0 && tries < TRIES;
        if (!mayTry || !(await this.isStillMeant(sent.paths, before))) throw error;
      }
    }
  }

  /** Whether the boat, read anew, has the same values at paths as before. */
  private async isStillMeant(
    paths: readonly string[],
    before: readonly string[],
  ): Promise<boolean> {
    await this.loading.load(new AbortController().signal, false);
    if (this.store.present.stuck) return false;
    return this.standing(paths).every((value, i) => value === before[i]);
  }

  /** The values at paths, comparable. */
  private standing(paths: readonly string[]): readonly string[] {
    const document = this.store.present.working?.document ?? {};
    return paths.map((path) => JSON.stringify(at(document, path)) ?? '');
  }

  private answered(sent: Sent, working: Working): void {
    const { drafts, refused } = this.store.present;
    const newer = [...drafts].filter(([, draft]) => draft.turn > sent.turn);
    this.store.change({
      refused: withoutPaths(refused, sent.paths),
      drafts: new Map([...withoutPaths(drafts, sent.paths), ...newer]),
      record: undefined,
      recordTrouble: '',
      since: sent.since,
      did: sent.label,
      deleted: sent.deletes ? { label: sent.label, edit: working.edit } : undefined,
    });
    this.loading.take(working);
    sent.reply?.([]);
  }

  private async failed(sent: Sent, error: unknown): Promise<void> {
    if (error instanceof api.Unreachable) this.lost(sent, error);
    else if (error instanceof api.Refusal) await this.refused(sent, error);
    else {
      sent.reply?.([wordsOf(error)]);
      this.store.change({ notice: `${sent.label}: ${wordsOf(error)}` });
    }
  }

  private async refused(sent: Sent, error: api.Refusal): Promise<void> {
    const isGone = this.loading.isGone(error, ` Not done: ${sent.label}.`);
    if (isGone) sent.reply?.([error.problem.detail]);
    else if (isOvertaken(error)) await this.overtaken(sent, error.problem);
    else if (sent.reply) sent.reply(reasonsOf(error.problem));
    else this.keepReasons(sent, reasonsOf(error.problem), error.problem.offers);
  }

  private keepReasons(
    { label, paths }: Sent,
    reasons: readonly string[],
    offers: Problem['offers'] = [],
  ): void {
    if (paths.length === 0) {
      this.store.change({ notice: reasons.join(' ') });
      return;
    }
    const refused = new Map(this.store.present.refused);
    const why = offers.length > 0 ? { label, reasons, offers } : { label, reasons };
    for (const path of paths) refused.set(path, why);
    this.store.change({ refused });
  }

  /** Keeps what could not be sent, the newest of a drag or of a value; a form keeps its own. */
  private lost(sent: Sent, { message }: api.Unreachable): void {
    this.store.change({ away: message });
    if (sent.reply) sent.reply([message]);
    else if (sent.paths.length === 0)
      this.store.change({ notice: `Not done: ${sent.label}. ${message}` });
    else {
      const again = sent.paths.join(' ');
      this.keepUnsent([...this.unsent.filter((one) => one.paths.join(' ') !== again), sent]);
      this.keepReasons(sent, [NOT_SENT]);
    }
  }

  private keepUnsent(unsent: readonly Sent[]): void {
    this.unsent = unsent;
    this.store.change({ unsent: unsent.map((one) => one.label) });
  }

  /** Shows what somebody else made of the boat; with no boat to show the reasons are kept. */
  private async overtaken(sent: Sent, problem: Problem): Promise<void> {
    await this.loading.load(new AbortController().signal, true);
    if (!this.store.present.stuck) this.sayOvertaken();
    if (sent.reply) sent.reply([problem.detail]);
    else if (this.store.present.stuck) this.keepReasons(sent, reasonsOf(problem));
  }

  private sayOvertaken(): void {
    const { drafts } = this.store.present;
    const keptWords = ' Your value is kept; press Enter to apply it.';
    this.store.change({
      notice: `Someone else edited first.${drafts.size > 0 ? keptWords : ''}`,
    });
  }
}

const isOvertaken = (error: unknown): boolean =>
  error instanceof api.Refusal && error.problem.status === 412;

const reasonsOf = ({ faults, detail }: Problem): readonly string[] =>
  faults.length > 0 ? faults.map((fault) => fault.sentence) : [detail];
