/** The refit document as plain values, addressed by dotted paths. */

export type Mapping = Readonly<Record<string, unknown>>;

/** Whether a value is a mapping. */
export const isMapping = (value: unknown): value is Mapping =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A mapping, or an empty one where the value is something else. */
export const mapping = (value: unknown): Mapping => (isMapping(value) ? value : {});

/** The value at a path, undefined where there is none. */
export function at(document: unknown, path: string): unknown {
  let value = document;
  for (const key of path.split('.'))
    value = isMapping(value) && Object.hasOwn(value, key) ? value[key] : undefined;
  return value;
}

/** The mapping with another value at some keys; undefined takes away what is there. */
export function withValue(whole: Mapping, keys: readonly string[], value: unknown): Mapping {
  const [first = '', ...rest] = keys;
  const { [first]: before, ...others } = whole;
  if (rest.length > 0) return { ...whole, [first]: withValue(mapping(before), rest, value) };
  return value === undefined ? others : { ...whole, [first]: value };
}

/** A finite number, or what to take instead. */
export const numberOr = (value: unknown, other: number): number =>
  typeof value === 'number' && Number.isFinite(value) ? value : other;

/** A text, or an empty one. */
export const text = (value: unknown): string => (typeof value === 'string' ? value : '');

/** Whether a list, anywhere in a value, has fewer entries than it had. */
export function losesEntries(before: unknown, after: unknown): boolean {
  if (Array.isArray(before) && Array.isArray(after))
    return after.length < before.length || before.some((one, i) => losesEntries(one, after[i]));
  return (
    isMapping(before) &&
    isMapping(after) &&
    Object.entries(before).some(([key, one]) => losesEntries(one, after[key]))
  );
}
