/** What is loaded when it is first needed: a page, the form of a part. */
import { useEffect, useState } from 'preact/hooks';
import { whyNot } from '../../session/review-store.ts';

export interface Loader<T> {
  readonly loaded: () => T | undefined;
  /** Loads it, or waits for it; after a failure it may be asked for again. */
  readonly load: () => Promise<T>;
}

export function loader<T>(begin: () => Promise<T>): Loader<T> {
  let value: T | undefined;
  let loading: Promise<T> | undefined;
  const keep = (one: T) => {
    value = one;
    return one;
  };
  const forget = (error: unknown) => {
    loading = undefined;
    throw error;
  };
  return {
    loaded: () => value,
    load: () => {
      loading ??= begin().then(keep, forget);
      return loading;
    },
  };
}

/** What a loader loads, undefined until it is there, and why it was not loaded. */
export function useLoaded<T>(from: Loader<T>): [T | undefined, string] {
  const [, count] = useState(0);
  const [trouble, setTrouble] = useState('');
  const value = from.loaded();
  useEffect(() => {
    if (value !== undefined) return undefined; // not from.loaded: it may have come since drawing
    let isWanted = true;
    setTrouble('');
    from.load().then(
      () => isWanted && count((n) => n + 1),
      (error: unknown) => isWanted && setTrouble(whyNot(error)),
    );
    return () => {
      isWanted = false;
    };
  }, [from, value]);
  return [value, trouble];
}
