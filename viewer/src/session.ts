/** The working copy on the page: what is shown, what is being sent, what was refused. */
import * as api from './api.ts';
import type { Edit, Effect, RecordResult, Working } from './contract.ts';
import { optionValues } from './document.ts';
import { isWithin } from './findings.ts';
import { line } from './live.ts';

/** A value set on the page that the boat has not answered yet, or has refused. */
export interface Draft {
  readonly value: unknown;
  readonly turn: number;
}

export interface Snapshot {
  readonly working: Working | undefined;
  /** The last answer with every condition in it; behind `working` while something is dragged. */
  readonly full: Working | undefined;
  /** Effects of single items, the last known while newer ones are on their way. */
  readonly effects: ReadonlyMap<string, Effect>;
  readonly record: RecordResult | undefined;
  readonly drafts: ReadonlyMap<string, Draft>;
  /** Why values were refused, by path: they stay where they were typed, the boat as she was. */
  readonly refused: ReadonlyMap<string, readonly string[]>;
  /** Something the reader should know, such as that somebody else was first. */
  readonly notice: string;
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
  readonly run: (edit: number) => Promise<Working>;
}

const EMPTY: Snapshot = {
  working: undefined,
  full: undefined,
  effects: new Map(),
  record: undefined,
  drafts: new Map(),
  refused: new Map(),
  notice: '',
  problem: undefined,
  busy: false,
  since: undefined,
  did: '',
};
const QUIET_MS = 180;
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
  private quiet = new AbortController();
  private readonly readers = new Set<(snapshot: Snapshot) => void>();
  private readonly queue = line<Sent, Working>({
    send: (sent) => sent.run(this.edit),
    answered: (sent, working) => this.answered(sent, working),
    failed: (sent, error) => this.failed(sent, error),
    settled: () => {
      this.change({ busy: false });
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

  /** Looks at another condition or option. */
  look(view: api.View): void {
    const otherOption = view.option !== this.view.option;
    if (!otherOption && view.condition === this.view.condition) return;
    this.view = view;
    if (otherOption) this.change(NOTHING_DRAFTED);
    void this.follow(0);
  }

  /** Puts a value at a path: in the drawing, or in the option that is looked at. */
  set(path: string, value: unknown, label: string, gesture: string | null = null): void {
    const draft = { value, turn: this.turn + 1 };
    this.snapshot = {
      ...this.snapshot,
      drafts: new Map(this.snapshot.drafts).set(path, draft),
    };
    this.push([path], label, gesture, (edit) =>
      this.applied(edit, { label, gesture, steps: [this.step(path, value)] }),
    );
  }

  /** Sends steps of any kind, as one step of undo. */
  send(steps: Edit['steps'], label: string): void {
    this.push(
      steps.map((s) => s.path),
      label,
      null,
      (edit) => this.applied(edit, { label, steps }),
    );
  }

  /** Takes the last step back, or does it again. */
  travel(way: 'undo' | 'redo'): void {
    const { working } = this.snapshot;
    const label = (way === 'undo' ? working?.undo_label : working?.redo_label) ?? '';
    this.change(NOTHING_DRAFTED);
    this.push([], `${way === 'undo' ? 'taken back' : 'done again'}: ${label}`, null, (edit) =>
      api.travel(this.refit, this.view, edit, { way, levers: this.levers }),
    );
  }

  /** Replaces the hull's lines. */
  sendLines(csv: string): void {
    this.push(['hull.lines'], 'lines of the hull', null, (edit) =>
      api.sendLines(this.refit, this.view, edit, csv),
    );
  }

  /** Forgets a value that was refused. */
  forget(path: string): void {
    this.change({
      drafts: withoutPaths(this.snapshot.drafts, [path]),
      refused: withoutPaths(this.snapshot.refused, [path]),
    });
  }

  /** Takes the notice away. */
  dismiss(): void {
    this.change({ notice: '' });
  }

  private get edit(): number {
    return this.snapshot.working?.edit ?? 0;
  }

  private applied(edit: number, body: Edit): Promise<Working> {
    const condition = this.view.condition ?? null;
    return api.apply(this.refit, this.view, edit, {
      ...body,
      condition,
      ...(this.levers ? { levers: true } : {}),
    });
  }

  private step(path: string, value: unknown): Edit['steps'][number] {
    const { option } = this.view;
    if (option === null) return { op: 'set', path, value };
    const values = optionValues(this.snapshot.working?.document ?? {}, option);
    return { op: 'set', path: `options.${option}.set`, value: { ...values, [path]: value } };
  }

  private push(
    paths: readonly string[],
    label: string,
    gesture: string | null,
    run: Sent['run'],
  ): void {
    this.quiet.abort();
    this.turn += 1;
    this.change({ busy: true, notice: '' });
    const since = performance.now();
    this.queue.push({ label, paths, gesture, turn: this.turn, since, run });
  }

  private answered(sent: Sent, working: Working): void {
    const newer = [...this.snapshot.drafts].filter(([, draft]) => draft.turn > sent.turn);
    this.change({
      refused: withoutPaths(this.snapshot.refused, sent.paths),
      drafts: new Map([...withoutPaths(this.snapshot.drafts, sent.paths), ...newer]),
      record: undefined,
      since: sent.since,
      did: sent.label,
    });
    this.take(working);
  }

  private take(working: Working): void {
    const effects = new Map(this.snapshot.effects);
    for (const item of working.assessment.items) {
      if (item.effect) effects.set(item.path, item.effect);
    }
    const full = working.partial ? this.snapshot.full : working;
    this.change({ working, full, effects, problem: undefined });
  }

  private async failed(sent: Sent, error: unknown): Promise<void> {
    if (!(error instanceof api.Refusal)) return this.change({ notice: wordsOf(error) });
    const { problem } = error;
    if (problem.status === 412) return this.overtaken();
    const sentences = problem.faults.map((fault) => fault.sentence);
    const said = sentences.length > 0 ? sentences : [problem.detail];
    if (sent.paths.length === 0) return this.change({ notice: said.join(' ') });
    const refused = new Map(this.snapshot.refused);
    for (const path of sent.paths) refused.set(path, said);
    return this.change({ refused });
  }

  private async overtaken(): Promise<void> {
    await this.load(new AbortController().signal);
    const kept = this.snapshot.drafts.size > 0;
    this.change({
      notice:
        'Somebody else changed the boat first; she is shown as she is now.' +
        (kept ? ' Your value is kept in its field: set it again if it should stand.' : ''),
    });
  }

  /** The quiet second answer: every condition and item, then the record of the solids. */
  private async follow(wait: number): Promise<void> {
    this.quiet.abort();
    this.quiet = new AbortController();
    const { signal } = this.quiet;
    await pause(wait);
    if (!signal.aborted) await this.load(signal);
    if (!signal.aborted) await this.readRecord(signal);
  }

  private async load(signal: AbortSignal): Promise<void> {
    try {
      const working = await api.read(this.refit, this.view, true, signal);
      if (signal.aborted || working.edit < this.edit) return;
      this.change({ since: undefined });
      this.take(working);
    } catch (error) {
      if (signal.aborted) return;
      if (error instanceof api.Refusal && !this.snapshot.working)
        this.change({ problem: error });
      else this.change({ notice: wordsOf(error) });
    }
  }

  private async readRecord(signal: AbortSignal): Promise<void> {
    for (const wait of RECORD_WAITS_MS) {
      const answer = await api.record(this.refit, this.view).catch(() => undefined);
      if (signal.aborted || answer === undefined) return;
      if (answer.edit === this.edit) this.change({ record: answer.record });
      if (answer.record.state !== 'pending') return;
      await pause(wait);
      if (signal.aborted) return;
    }
  }

  private change(part: Partial<Snapshot>): void {
    this.snapshot = { ...this.snapshot, ...part };
    for (const reader of this.readers) reader(this.snapshot);
  }
}

function withoutPaths<T>(
  map: ReadonlyMap<string, T>,
  paths: readonly string[],
): Map<string, T> {
  return new Map([...map].filter(([key]) => !paths.some((path) => isWithin(key, path))));
}

const wordsOf = (error: unknown): string =>
  error instanceof Error ? error.message : 'Something went wrong that has no name.';
