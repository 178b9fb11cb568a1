/** A state that is replaced, never changed: every watcher is called with each new one. */
export class Store<State extends object> {
  protected state: State;
  private readonly readers = new Set<(state: State) => void>();

  constructor(first: State) {
    this.state = first;
  }

  get present(): State {
    return this.state;
  }

  /** Calls back with every state, the present one first. */
  watch(reader: (state: State) => void): () => void {
    this.readers.add(reader);
    reader(this.state);
    return () => {
      this.readers.delete(reader);
    };
  }

  change(part: Partial<State>): void {
    this.state = { ...this.state, ...part };
    for (const reader of this.readers) reader(this.state);
  }
}
