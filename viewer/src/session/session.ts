/** The working copy on the page: what is shown, what is being sent, what was refused. */

import type { Edit, Effect, RecordResult, Working } from '../contract.ts';
import { withEffects } from '../shared/answer/effects.ts';
import { isWithin } from '../shared/answer/findings.ts';
import { at } from '../shared/boat/document.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import * as api from './api.ts';
import { line } from './edit-queue.ts';
import { lifted } from './gesture.ts';

/** A value set on the page that the boat has not answered yet, or has refused. */
export interface Draft {
  readonly value: unknown;
  readonly turn: number;
}

/** Why something was not taken, and what it was. */
export interface Refused {
  readonly label: string;
  readonly reasons: readonly string[];
}
const NONE: readonly string[] = [];
/** Why the value at a path was not taken; the same empty list where it was. */
export const reasonsAt = ({ refused }: Snapshot, path: string): readonly string[] =>
  refused.get(path)?.reasons ?? NONE;

export interface Snapshot {
  readonly working: Working | undefined;
  /** The last answer with every condition in it; behind `working` while something is dragged. */
  readonly full: Working | undefined;
  /** Effects of single items, the last known while newer ones are on their way. */
  readonly effects: ReadonlyMap<string, Effect>;
  readonly record: RecordResult | undefined;
  /** Why the solids were not weighed; empty where they were, or are being. */
  readonly recordTrouble: string;
  readonly drafts: ReadonlyMap<string, Draft>;
  /** Why values were refused, by path: they stay where they were typed, the boat as she was. */
  readonly refused: ReadonlyMap<string, Refused>;
  /** Why the server cannot be asked at present; empty where it answers. */
  readonly away: string;
  /** What was done since it does not answer: kept here, and sent when it does. */
  readonly unsent: readonly string[];
  /** The option that was looked at and is there no more; empty where it is. */
  readonly gone: string;
  /** The latest edit that is known to stand in the boat's file. */
  readonly savedEdit: number;
  /** Something the reader should know, such as that somebody else was first. */
  readonly notice: string;
  /** Why she cannot be answered as she is on the server; empty where she was. */
  readonly stuck: string;
  /** Why there is no boat to show. */
  readonly problem: api.Refusal | undefined;
  readonly busy: boolean;
  /** When the reader did what led to `working` [ms since the page began]. */
  readonly since: number | undefined;
  /** What the reader did, for the result that is read aloud. */
  readonly did: string;
}

interface Sent {
  readonly label: string;
  readonly paths: readonly string[];
  readonly gesture: string | null;
  readonly turn: number;
  readonly since: number;
  /** The option it is meant under, whichever is looked at when it is sent. */
  readonly option: string | null;
  readonly run: (edit: number, view: api.View) => Promise<Working>;
  /** Told why it was not taken, nothing where it was; else the reasons are kept by path. */
  readonly told?: ((why: readonly string[]) => void) | undefined;
}

const EMPTY: Snapshot = {
  working: undefined,
  full: undefined,
  effects: new Map(),
  record: undefined,
  recordTrouble: '',
  drafts: new Map(),
  refused: new Map(),
  away: '',
  unsent: [],
  gone: '',
  savedEdit: 0,
  notice: '',
  stuck: '',
  problem: undefined,
  busy: false,
  since: undefined,
  did: '',
};
/** How long nothing is dragged before what can wait is asked for. */
export const QUIET_MS = 180;
/** How long a pointer may rest on what it drags before all of it is asked for. */
const HELD_MS = 1000;
const TRIES = 5;
const FROZEN = 'A frozen revision is only looked at.';
const NOT_SENT = 'Not sent: the server does not answer. It is kept here, and sent when it does.';
const SAVED_WAITS_MS = [1500, 4000, 10000];
const RECORD_WAITS_MS = [150, 250, 400, 700, 1200, 2000, 4000, 8000, 16000];
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const NOTHING_DRAFTED = { drafts: new Map(), refused: new Map() } as const;

export class Session {
  readonly refit: string;
  /** Whether levers are looked at: the first answer to an edit then carries them too. */
  levers = false;
  private view: api.View;
  private snapshot = EMPTY;
  private turn = 0;
  /** The latest edit that was answered of what is looked at. */
  private newest = 0;
  private quiet = new AbortController();
  private turning = new AbortController();
  /** The edit the server told of last. */
  private told = 0;
  private catching = false;
  private unsent: readonly Sent[] = [];
  private readonly readers = new Set<(snapshot: Snapshot) => void>();
  private readonly queue = line<Sent, Working>({
    send: (sent) => this.sent(sent),
    answered: (sent, working) => this.answered(sent, working),
    failed: (sent, error) => this.failed(sent, error),
    settled: () => {
      void this.rest();
      void this.follow(QUIET_MS);
    },
  });

  constructor(refit: string, view: api.View) {
    this.refit = refit;
    this.view = view;
  }

  /** Calls back with every snapshot, the present one first. */
  watch(reader: (snapshot: Snapshot) => void): () => void {
    this.readers.add(reader);
    reader(this.snapshot);
    return () => {
      this.readers.delete(reader);
    };
  }

  /** The snapshot as it is now. */
  get present(): Snapshot {
    return this.snapshot;
  }

  /** Loads the boat as she is on the server, her file may have been edited by hand. */
  refresh(): void {
    if (!this.queue.busy) void this.follow(0);
  }

  /** Hears that the boat is at an edit by now; what is being set here comes first. */
  heard(edit: number): void {
    if (this.view.revision !== undefined) return;
    this.told = Math.max(this.told, edit);
    if (!this.catching) void this.catchUp();
  }

  /** Hears that an edit stands in the boat's file. */
  saved(edit: number): void {
    if (edit > this.snapshot.savedEdit) this.change({ savedEdit: edit });
  }

  /** Looks at another condition or option. */
  look(view: api.View): void {
    const otherRevision = view.revision !== this.view.revision;
    const otherOption = view.option !== this.view.option || otherRevision;
    if (!otherOption && view.condition === this.view.condition) return;
    this.view = view;
    if (otherOption) this.change({ ...NOTHING_DRAFTED, gone: '' });
    if (otherRevision) this.newest = 0;
    void this.turnTo();
  }

  /** Puts a value at a path of what is looked at; under an option the server says where it lands. */
  set(path: string, value: unknown, label: string, gesture: string | null = null): void {
    const draft = { value, turn: this.turn + 1 };
    this.snapshot = {
      ...this.snapshot,
      drafts: new Map(this.snapshot.drafts).set(path, draft),
    };
    this.push([path], label, gesture, (edit, view) =>
      this.applied(edit, view, { label, gesture, steps: [{ op: 'set', path, value }] }),
    );
  }

  /** Sends steps of any kind, as one step of undo. */
  send(steps: Edit['steps'], label: string): void {
    this.push(
      steps.map((s) => s.path),
      label,
      null,
      (edit, view) => this.applied(edit, view, { label, steps }),
    );
  }

  /** Puts something new at a path, and answers why it was not taken: nothing where it was. */
  add(path: string, value: unknown, label: string): Promise<readonly string[]> {
    const steps = [{ op: 'set', path, value }] as const;
    return new Promise((told) =>
      this.push(
        [path],
        label,
        null,
        (edit, view) => this.applied(edit, view, { label, steps }),
        told,
      ),
    );
  }

  /** Takes the last step back, or does it again. */
  travel(way: 'undo' | 'redo'): void {
    const { working } = this.snapshot;
    const label = (way === 'undo' ? working?.undo_label : working?.redo_label) ?? '';
    this.change(NOTHING_DRAFTED);
    this.push([], `${way} of ${label}`, null, (edit, view) =>
      api.travel(this.refit, view, edit, { way, levers: this.levers }),
    );
  }

  /** Replaces the hull's lines. */
  sendLines(csv: string): void {
    this.push(['hull.lines'], 'lines of the hull', null, (edit, view) =>
      api.sendLines(this.refit, view, edit, csv),
    );
  }

  /** Forgets a value that was refused. */
  forget(path: string): void {
    this.change({
      drafts: withoutPaths(this.snapshot.drafts, [path]),
      refused: withoutPaths(this.snapshot.refused, [path]),
    });
  }

  /** Says something in the bar. */
  say(notice: string): void {
    this.change({ notice });
  }

  /** Takes the notice away. */
  dismiss(): void {
    this.change({ notice: '' });
  }

  private get edit(): number {
    return this.snapshot.working?.edit ?? 0;
  }

  private applied(edit: number, view: api.View, body: Edit): Promise<Working> {
    const condition = view.condition ?? null;
    return api.apply(this.refit, view, edit, {
      ...body,
      condition,
      ...(this.levers ? { levers: true } : {}),
    });
  }

  /** Sends, and again where somebody else's edit came first and left these values alone. */
  private async sent(sent: Sent): Promise<Working> {
    for (let tries = 1; ; tries += 1) {
      const before = this.standing(sent.paths);
      try {
        return await sent.run(this.edit, { ...this.view, option: sent.option });
      } catch (error) {
        if (!isOvertaken(error) || before.length === 0 || tries === TRIES) throw error;
        await this.load(new AbortController().signal, false);
        if (this.snapshot.stuck) throw error;
        if (this.standing(sent.paths).some((value, i) => value !== before[i])) throw error;
      }
    }
  }

  /** The values at paths, comparable. */
  private standing(paths: readonly string[]): readonly string[] {
    const document = this.snapshot.working?.document ?? {};
    return paths.map((path) => JSON.stringify(at(document, path)) ?? '');
  }

  /** Shows what others have changed, one answer after another, then all of it. */
  private async catchUp(): Promise<void> {
    this.catching = true;
    let before = -1;
    while (this.told > this.edit && this.edit > before && !this.queue.busy) {
      before = this.edit;
      this.quiet.abort();
      this.quiet = new AbortController();
      await this.load(this.quiet.signal, false);
    }
    this.catching = false;
    if (before >= 0 && !this.queue.busy) await this.follow(QUIET_MS);
  }

  private push(
    paths: readonly string[],
    label: string,
    gesture: string | null,
    run: Sent['run'],
    told?: Sent['told'],
  ): void {
    if (this.view.revision !== undefined) {
      told?.([FROZEN]);
      return this.change({ notice: FROZEN });
    }
    this.quiet.abort();
    this.turn += 1;
    this.change({ busy: true, notice: '' });
    const since = performance.now();
    const { option } = this.view;
    return this.queue.push({ label, paths, gesture, turn: this.turn, since, option, run, told });
  }

  private answered(sent: Sent, working: Working): void {
    const newer = [...this.snapshot.drafts].filter(([, draft]) => draft.turn > sent.turn);
    this.change({
      refused: withoutPaths(this.snapshot.refused, sent.paths),
      drafts: new Map([...withoutPaths(this.snapshot.drafts, sent.paths), ...newer]),
      record: undefined,
      recordTrouble: '',
      since: sent.since,
      did: sent.label,
    });
    this.take(working);
    sent.told?.([]);
  }

  private take(told: Working): void {
    const before = this.snapshot.working?.assessment;
    const working = { ...told, assessment: withEffects(told.assessment, before) };
    const effects = new Map(this.snapshot.effects);
    for (const item of working.assessment.items) {
      if (item.effect) effects.set(item.path, item.effect);
    }
    const full = working.partial ? this.snapshot.full : working;
    this.newest = working.edit;
    this.change({ working, full, effects, problem: undefined, stuck: '', away: '' });
    if (told.saved) this.saved(told.edit);
    this.sendUnsent();
  }

  private async failed(sent: Sent, error: unknown): Promise<void> {
    if (error instanceof api.Unreachable) return this.lost(sent, error);
    if (!(error instanceof api.Refusal)) {
      sent.told?.([wordsOf(error)]);
      return this.change({ notice: `${sent.label}: ${wordsOf(error)}` });
    }
    const { problem } = error;
    if (this.isGone(error, ` Not done: ${sent.label}.`)) return sent.told?.([problem.detail]);
    if (isOvertaken(error)) {
      await this.overtaken();
      if (!this.snapshot.stuck || sent.told) return sent.told?.([problem.detail]);
    }
    const sentences = problem.faults.map((fault) => fault.sentence);
    const said = sentences.length > 0 ? sentences : [problem.detail];
    if (sent.told) return sent.told(said);
    if (sent.paths.length === 0) return this.change({ notice: said.join(' ') });
    return this.refuse(sent, said);
  }

  private refuse({ label, paths }: Sent, reasons: readonly string[]): void {
    const refused = new Map(this.snapshot.refused);
    for (const path of paths) refused.set(path, { label, reasons });
    this.change({ refused });
  }

  /** Keeps what could not be sent, the newest of a drag or of a value; a form keeps its own. */
  private lost(sent: Sent, error: api.Unreachable): void {
    this.change({ away: error.message });
    if (sent.told) return sent.told([error.message]);
    if (sent.paths.length === 0)
      return this.change({ notice: `Not done: ${sent.label}. ${error.message}` });
    const again = sent.paths.join(' ');
    this.keepUnsent([...this.unsent.filter((one) => one.paths.join(' ') !== again), sent]);
    return this.refuse(sent, [NOT_SENT]);
  }

  private keepUnsent(unsent: readonly Sent[]): void {
    this.unsent = unsent;
    this.change({ unsent: unsent.map((one) => one.label) });
  }

  /** The server answers again: what waited for it is sent, in order. */
  private sendUnsent(): void {
    const waiting = this.unsent;
    if (waiting.length === 0) return;
    this.keepUnsent([]);
    this.change({ busy: true });
    for (const sent of waiting) this.queue.push({ ...sent, since: performance.now() });
  }

  /** Whether the option that is looked at is there no more; then it is said. */
  private isGone(error: api.Refusal, more = ''): boolean {
    const gone = this.view.option;
    if (error.problem.code !== 'unknown-option' || gone === null) return false;
    const words = `The option ${plainWords(gone)} is gone: it was renamed or deleted elsewhere.`;
    this.change({ gone, notice: `${words} This is the base design.${more}` });
    return true;
  }

  private async overtaken(): Promise<void> {
    await this.load(new AbortController().signal, true);
    if (this.snapshot.stuck) return;
    const kept = this.snapshot.drafts.size > 0;
    this.change({
      notice:
        'Somebody else changed the boat first; she is shown as she is now.' +
        (kept ? ' Your value is kept in its field: set it again if it should stand.' : ''),
    });
  }

  /** Nothing is being worked out, nor being dragged: it is said once, not at every step. */
  private async rest(): Promise<void> {
    await lifted(HELD_MS);
    if (!this.queue.busy) this.change({ busy: false });
  }

  /** Shows what is looked at by now: the chosen condition first, then all of it. */
  private async turnTo(): Promise<void> {
    this.turning.abort();
    this.turning = new AbortController();
    const { signal } = this.turning;
    this.change({ busy: true });
    if (this.view.revision === undefined) await this.load(signal, false);
    if (signal.aborted) return;
    if (this.view.revision === undefined) this.change({ busy: this.queue.busy });
    await this.follow(0);
    if (!signal.aborted) this.change({ busy: this.queue.busy });
  }

  /** The quiet second answer: every condition and item, then the record of the solids. */
  private async follow(wait: number): Promise<void> {
    this.quiet.abort();
    this.quiet = new AbortController();
    const { signal } = this.quiet;
    await pause(wait);
    if (wait > 0) await lifted(HELD_MS);
    if (!signal.aborted) await this.load(signal, true);
    if (!signal.aborted) await this.readRecord(signal);
    for (const patience of SAVED_WAITS_MS) {
      if (signal.aborted || this.snapshot.savedEdit >= this.edit) return;
      await pause(patience); // the word that it is saved may have been missed
      if (!signal.aborted && this.snapshot.savedEdit < this.edit) await this.load(signal, true);
    }
  }

  private async load(signal: AbortSignal, full: boolean): Promise<void> {
    try {
      const working = await api.read(this.refit, this.view, full, signal);
      if (signal.aborted || working.edit < this.newest) return;
      this.change({ since: undefined });
      this.take(working);
    } catch (error) {
      if (signal.aborted) return;
      if (error instanceof api.Unreachable) this.change({ away: error.message });
      else if (!(error instanceof api.Refusal)) this.change({ notice: wordsOf(error) });
      else if (this.isGone(error)) return;
      else if (this.snapshot.working) this.change({ stuck: wordsOf(error) });
      else this.change({ problem: error });
    }
  }

  private async readRecord(signal: AbortSignal): Promise<void> {
    if (this.view.revision !== undefined)
      return this.change({ record: this.snapshot.working?.assessment.record });
    for (let asked = 0; !signal.aborted; asked += 1) {
      try {
        const answer = await api.record(this.refit, this.view);
        if (signal.aborted) return;
        if (answer.edit === this.edit) this.change({ record: answer.record, recordTrouble: '' });
        if (answer.record.state !== 'pending') return;
      } catch (error) {
        if (!signal.aborted) this.change({ recordTrouble: wordsOf(error) });
        return;
      }
      await pause(RECORD_WAITS_MS[asked] ?? RECORD_WAITS_MS.at(-1)!);
    }
  }

  private change(part: Partial<Snapshot>): void {
    this.snapshot = { ...this.snapshot, ...part };
    for (const reader of this.readers) reader(this.snapshot);
  }
}

function withoutPaths<T>(map: ReadonlyMap<string, T>, paths: readonly string[]): Map<string, T> {
  return new Map([...map].filter(([key]) => !paths.some((path) => isWithin(key, path))));
}

const isOvertaken = (error: unknown): boolean =>
  error instanceof api.Refusal && error.problem.status === 412;

const wordsOf = (error: unknown): string =>
  error instanceof Error ? error.message : 'Something went wrong that has no name.';

/** What is known of the file: that it holds this edit, that it will, or that it cannot. */
export function savedWord(
  {
    stuck,
    away,
    unsent,
    savedEdit,
    busy,
  }: Pick<Snapshot, 'stuck' | 'away' | 'unsent' | 'savedEdit' | 'busy'>,
  { edit, trouble }: Pick<Working, 'edit' | 'trouble'>,
): string {
  if (unsent.length > 0 || stuck || trouble) return 'not saved';
  if (savedEdit >= edit && !busy) return 'saved';
  return away ? 'not saved' : 'saving';
}
