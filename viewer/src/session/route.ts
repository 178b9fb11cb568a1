/** Where the reader is, kept in the address, so that reloading and going back find it again. */
import { choiceOf } from '../shared/words/choice.ts';

export const PAGES = [
  'start',
  'float',
  'stability',
  'ledger',
  'hull',
  'cutting',
  'review',
  'print',
] as const;
export type Page = (typeof PAGES)[number];

/** Pages that a file without a server has not. */
export const NEED_A_SERVER: readonly Page[] = ['cutting'];

/** A change, and one of its parts where it has any. */
interface Picked {
  readonly change: string;
  readonly part: string | undefined;
}

export interface Route {
  readonly page: Page;
  readonly boat: string | undefined;
  readonly condition: string | undefined;
  readonly option: string | null;
  readonly picked: Picked | undefined;
  /** A frozen revision; undefined for the working copy. */
  readonly revision: number | undefined;
  /** The comment that is looked at, by its id. */
  readonly comment: string | undefined;
}

/** The route an address's hash names; what is unknown falls back to the Float page. */
export function routeOf(hash: string): Route {
  const [path = '', words = ''] = hash.replace(/^#\/?/, '').split('?');
  const query = new URLSearchParams(words);
  const named = (name: string) => query.get(name) ?? undefined;
  return {
    page: choiceOf(PAGES, path) ?? 'float',
    boat: named('boat'),
    condition: named('condition'),
    option: query.get('option') ?? query.get('plan'), // as links said it before
    picked: pickedIn(named('picked') ?? ''),
    revision: Number(named('revision')) || undefined,
    comment: named('comment'),
  };
}

function pickedIn(words: string): Picked | undefined {
  const [change = '', part = ''] = words.split('/');
  return change ? { change, part: part || undefined } : undefined;
}

/** The hash that names a route. */
export function hashOf(route: Route): string {
  const query = new URLSearchParams();
  if (route.boat) query.set('boat', route.boat);
  if (route.condition) query.set('condition', route.condition);
  if (route.option !== null) query.set('option', route.option);
  if (route.picked) query.set('picked', [route.picked.change, route.picked.part ?? ''].join('/'));
  if (route.revision !== undefined) query.set('revision', String(route.revision));
  if (route.comment) query.set('comment', route.comment);
  const words = query.toString().replaceAll('%2F', '/');
  return `#/${route.page}${words && `?${words}`}`;
}

/** The secret of a link that was handed out, where the address holds one. */
export const tokenOf = (hash: string): string | undefined =>
  /^#\/(?:shared|owner)\/([\w-]{20,200})$/.exec(hash)?.[1];
