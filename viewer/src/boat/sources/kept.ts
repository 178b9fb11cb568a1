/** What was typed on a page of a source, kept while another section or source is looked at. */
import { useState } from 'preact/hooks';

/** A value and how to set it; `store` has it for each refit until the page is loaded anew. */
export function useKept<Value>(store: Map<string, Value>, refit: string, first: Value) {
  const [value, setValue] = useState(store.get(refit) ?? first);
  const set = (next: Value) => {
    store.set(refit, next);
    setValue(next);
  };
  return [value, set] as const;
}
