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
  for (const key of path.split('.')) value = isMapping(value) && Object.hasOwn(value, key) ? value[key] : undefined;
  return value;
}

/** The document with another value at a path; nothing is changed in place. */
export function withValue(document: Mapping, path: string, value: unknown): Mapping {
  const [key = '', ...rest] = path.split('.');
  if (rest.length === 0) return { ...document, [key]: value };
  return { ...document, [key]: withValue(mapping(document[key]), rest.join('.'), value) };
}

/** The values an option puts in place of the document's, by path. */
export const optionValues = (document: Mapping, option: string | null): Mapping =>
  option === null ? {} : mapping(mapping(mapping(document.options)[option]).set);

/** The document as an option sees it. */
export function underOption(document: Mapping, option: string | null): Mapping {
  return Object.entries(optionValues(document, option)).reduce(
    (seen, [path, value]) => withValue(seen, path, value),
    document,
  );
}

/** A finite number, or what to take instead. */
export const numberOr = (value: unknown, other: number): number =>
  typeof value === 'number' && Number.isFinite(value) ? value : other;

/** A text, or an empty one. */
export const text = (value: unknown): string => (typeof value === 'string' ? value : '');
