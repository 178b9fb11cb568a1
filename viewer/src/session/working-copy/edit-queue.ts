/** One request in flight; of a drag, only the newest value waits behind it. */

interface Queued {
  readonly gesture?: string | null;
}

export interface EditQueue<E> {
  /** Sends at once where nothing is in flight; else waits, in place of its gesture's last. */
  push(edit: E): void;
  readonly busy: boolean;
}

interface Hooks<E, A> {
  readonly send: (edit: E) => Promise<A>;
  readonly answered: (edit: E, answer: A) => void;
  /** May put things right again (load what somebody else changed) before the next is sent. */
  readonly failed: (edit: E, error: unknown) => Promise<void>;
  readonly settled: () => void;
}

export function editQueue<E extends Queued, A>({
  send,
  answered,
  failed,
  settled,
}: Hooks<E, A>): EditQueue<E> {
  const waiting: E[] = [];
  let running = false;

  async function run(): Promise<void> {
    running = true;
    for (let edit = waiting.shift(); edit !== undefined; edit = waiting.shift()) {
      try {
        answered(edit, await send(edit));
      } catch (error) {
        await failed(edit, error);
      }
    }
    running = false;
    settled();
  }

  return {
    push(edit) {
      const last = waiting.at(-1);
      if (last && edit.gesture && last.gesture === edit.gesture) waiting.pop();
      waiting.push(edit);
      if (!running) void run();
    },
    get busy() {
      return running;
    },
  };
}
