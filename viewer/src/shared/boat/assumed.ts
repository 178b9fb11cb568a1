/** What of a boat is assumed, and what is her owner's own. */
import { at, isMapping } from './document.ts';

/** Dotted paths of the document that are assumed. */
export function assumedIn(document: unknown): readonly string[] {
  const given = at(document, 'assumed');
  return Array.isArray(given) ? given.map(String) : [];
}

/** Whether a path is assumed, or something above it. */
export const isAssumed = (path: string, assumed: readonly string[]): boolean =>
  assumed.some((one) => path === one || path.startsWith(`${one}.`));

const lieTogether = (a: string, b: string) =>
  a === b || a.startsWith(`${b}.`) || b.startsWith(`${a}.`);

const isThere = (value: unknown) =>
  value !== undefined && !(isMapping(value) && Object.keys(value).length === 0);

/** Whether what stands at paths is the owner's, assumed, or not there. */
export function statusOf(
  document: unknown,
  paths: readonly string[],
  assumed: readonly string[],
): 'yours' | 'assumed' | 'empty' {
  if (assumed.some((one) => paths.some((path) => lieTogether(one, path)))) return 'assumed';
  return paths.some((path) => isThere(at(document, path))) ? 'yours' : 'empty';
}
