/** The working copy on the page: what may be done with it. */
import type { Edit, GivenLines, Working } from '../../contract.ts';
import { at, losesEntries } from '../../shared/boat/document.ts';
import * as api from '../api.ts';
import { takeLines } from '../hull-sources-api.ts';
import { Following, QUIET_MS } from './following.ts';
import { Loading } from './loading.ts';
import { type Change, Sending } from './sending.ts';
import { NOTHING_DRAFTED, type Snapshot, SnapshotStore, withoutPaths } from './snapshot.ts';
import { withTitles } from './titles.ts';

const isRefusal = (error: unknown) => error instanceof api.Refusal && error.problem.status === 422;

export class Session {
  readonly refit: string;
  private readonly store = new SnapshotStore();
  private readonly loading: Loading;
  private readonly sending: Sending;
  private readonly following: Following;
  /** How names were typed, by the key each becomes. */
  private readonly typedNames = new Map<string, string>();

  constructor(refit: string, view: api.View) {
    this.refit = refit;
    this.loading = new Loading(refit, view, this.store, () => this.sending.sendUnsent());
    this.sending = new Sending(this.loading, this.store, () => {
      void this.following.rest();
      void this.following.follow(QUIET_MS);
    });
    this.following = new Following(this.loading, this.store, () => this.sending.isBusy);
  }

  /** Calls back with every snapshot, the present one first. */
  watch(reader: (snapshot: Snapshot) => void): () => void {
    return this.store.watch(reader);
  }

  /** The snapshot as it is now. */
  get present(): Snapshot {
    return this.store.present;
  }

  /** Loads the boat as she is on the server, her file may have been edited by hand. */
  refresh(): void {
    if (!this.sending.isBusy) void this.following.follow(0);
  }

  /** Whether levers are shown: answers then carry them too, except during a drag. */
  set levers(levers: boolean) {
    this.loading.levers = levers;
  }

  /** Hears that the boat is at an edit by now; what is being set here comes first. */
  heard(edit: number): void {
    this.following.heard(edit);
  }

  /** Hears that an edit stands in the boat's file. */
  saved(edit: number): void {
    this.loading.saved(edit);
  }

  /** Looks at another condition or option. */
  look(view: api.View): void {
    const { condition, option, revision } = this.loading.view;
    const isOtherBoat = view.option !== option || view.revision !== revision;
    if (!isOtherBoat && view.condition === condition) return;
    this.loading.look(view);
    if (isOtherBoat) this.store.change({ ...NOTHING_DRAFTED, gone: '' });
    void this.following.turnTo();
  }

  /** Puts a value at a path of what is looked at; under an option the server says where it lands. */
  set(path: string, value: unknown, label: string, gesture: string | null = null): void {
    this.store.draft(path, { value, turn: this.sending.nextTurn });
    const deletes = losesEntries(at(this.store.present.working?.document, path), value);
    this.apply([{ op: 'set', path, value }], label, { gesture, deletes });
  }

  /** Hears how a name was typed that became a key; empty where the key says all of it. */
  called(key: string, name: string): void {
    if (name) this.typedNames.set(key, name);
    else this.typedNames.delete(key);
  }

  /** Sends steps of any kind, as one step of undo. */
  send(steps: Edit['steps'], label: string): void {
    this.apply(steps, label);
  }

  /** Deletes what lies at a path; once it is gone, a notice offers undo. */
  remove(path: string, what: string, done: 'deleted' | 'left out' = 'deleted'): void {
    this.apply([{ op: 'remove', path }], `${what} ${done}`, { deletes: true });
  }

  /** Sends steps as one, and answers why they were not taken: nothing where they were. */
  attempt(steps: Edit['steps'], label: string): Promise<readonly string[]> {
    return new Promise((reply) => this.apply(steps, label, { reply }));
  }

  /** Puts something new at a path, and answers why it was not taken: nothing where it was. */
  add(
    path: string,
    value: unknown,
    label: string,
    beside: Edit['steps'] = [],
  ): Promise<readonly string[]> {
    return this.attempt([...beside, { op: 'set', path, value }], label);
  }

  /** Takes the last step back, or does it again. */
  undoOrRedo(way: 'undo' | 'redo'): void {
    const { working } = this.store.present;
    const label = (way === 'undo' ? working?.undo_label : working?.redo_label) ?? '';
    this.store.change(NOTHING_DRAFTED);
    this.push({
      paths: [],
      label: `${way} of ${label}`,
      run: (edit, view) =>
        api.undoOrRedo(this.refit, view, edit, { way, levers: this.loading.levers }),
    });
  }

  /** Replaces the hull's lines, and answers why they were not taken: nothing where they were. */
  takeLines(lines: GivenLines): Promise<readonly string[]> {
    return new Promise((reply) =>
      this.push({
        paths: ['hull.lines'],
        label: 'lines of the hull',
        run: (edit, view) => takeLines(this.refit, view, edit, lines),
        reply,
      }),
    );
  }

  /** Forgets a value that was refused. */
  forget(path: string): void {
    const { drafts, refused } = this.store.present;
    this.store.change({
      drafts: withoutPaths(drafts, [path]),
      refused: withoutPaths(refused, [path]),
    });
  }

  /** Says something in the bar. */
  say(notice: string): void {
    this.store.change({ notice });
  }

  /** Takes the notice away. */
  dismiss(): void {
    this.store.change({ notice: '' });
  }

  private apply(
    steps: Edit['steps'],
    label: string,
    { gesture = null, ...more }: Pick<Change, 'gesture' | 'reply' | 'deletes'> = {},
  ): void {
    const send = (edit: number, view: api.View, all: Edit['steps']): Promise<Working> =>
      api.apply(this.refit, view, edit, {
        label,
        gesture,
        steps: this.named(all),
        condition: view.condition ?? null,
        ...(this.loading.levers && gesture === null ? { levers: true } : {}),
      });
    const run = async (edit: number, view: api.View): Promise<Working> => {
      try {
        return await send(edit, view, steps);
      } catch (error) {
        const beside = this.refusedBeside(steps);
        if (!isRefusal(error) || beside.length === 0) throw error;
        return this.together(send(edit, view, [...beside, ...steps]), beside, error);
      }
    };
    this.push({ paths: steps.map((step) => step.path), label, run, gesture, ...more });
  }

  /** The steps, with the names of what they add or take away. */
  private named(steps: Edit['steps']): Edit['steps'] {
    const document = this.store.present.working?.document;
    // what an option leaves out is still in the base design, and keeps its name
    const kept = this.loading.view.option === null ? (document ?? {}) : {};
    return withTitles(steps, kept, this.typedNames);
  }

  /** Values of the same group that were refused: with a new one beside them they may stand. */
  private refusedBeside(steps: Edit['steps']): Edit['steps'] {
    const [only, ...others] = steps;
    if (only === undefined || others.length > 0) return [];
    const { drafts, refused } = this.store.present;
    const group = only.path.slice(0, only.path.lastIndexOf('.') + 1);
    return [...drafts]
      .filter(([path]) => refused.has(path) && path !== only.path)
      .filter(([path]) => group !== '' && path.startsWith(group))
      .map(([path, { value }]) => ({ op: 'set', path, value }));
  }

  /** What was answered to all of them; where they are refused too, why the new one alone was. */
  private async together(
    sent: Promise<Working>,
    beside: Edit['steps'],
    alone: unknown,
  ): Promise<Working> {
    const working = await sent.catch(() => {
      throw alone;
    });
    for (const { path } of beside) this.forget(path);
    return working;
  }

  private push(change: Change): void {
    if (this.sending.push(change)) this.following.interrupt();
  }
}
