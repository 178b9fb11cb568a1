/** Where the reader is, kept in the address, so that reloading and going back find it again. */
import { SECTION_IDS, type SectionId } from '../shared/boat/sections.ts';
import { choiceOf } from '../shared/words/choice.ts';

export const PAGES = [
  'start',
  'float',
  'stability',
  'ledger',
  'boat',
  'photograph',
  'cutting',
  'review',
  'print',
  'guide',
] as const;
export type Page = (typeof PAGES)[number];

/** Pages that a file without a server has not. */
export const NEED_A_SERVER: readonly Page[] = ['photograph', 'cutting'];

/** Pages that a link on another page leads to, without a tab. */
export const WITHOUT_TAB: readonly Page[] = ['photograph'];

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
  /** The section of the Boat page. */
  readonly section: SectionId | undefined;
  /** The entry of the Guide. */
  readonly entry: string | undefined;
}

/** The route an address's hash names; what is unknown falls back to the Float page. */
export function routeOf(hash: string): Route {
  const [path = '', words = ''] = hash.replace(/^#\/?/, '').split('?');
  const query = new URLSearchParams(words);
  const named = (name: string) => query.get(name) ?? undefined;
  return {
    page: choiceOf(PAGES, path === 'hull' ? 'boat' : path) ?? 'float', // as links said it before
    boat: named('boat'),
    condition: named('condition'),
    option: query.get('option') ?? query.get('plan'), // as links said it before
    picked: pickedIn(named('picked') ?? ''),
    revision: Number(named('revision')) || undefined,
    comment: named('comment'),
    section: choiceOf(SECTION_IDS, named('section') ?? ''),
    entry: named('entry'),
  };
}

function pickedIn(words: string): Picked | undefined {
  const [change = '', part = ''] = words.split('/');
  return change ? { change, part: part || undefined } : undefined;
}

/** The hash that names a route. */
export function hashOf(route: Route): string {
  const { page, picked, revision } = route;
  const words: Readonly<Record<string, string | null | undefined>> = {
    boat: route.boat,
    condition: route.condition,
    option: route.option,
    picked: picked && [picked.change, picked.part ?? ''].join('/'),
    revision: revision === undefined ? null : String(revision),
    comment: route.comment,
    ...ownWords(route),
  };
  const query = new URLSearchParams();
  for (const [name, word] of Object.entries(words)) if (word) query.set(name, word);
  const text = query.toString().replaceAll('%2F', '/');
  return `#/${page}${text && `?${text}`}`;
}

/** What only one page is asked for. */
function ownWords({ page, section, entry }: Route): Pick<Partial<Route>, 'section' | 'entry'> {
  if (page === 'boat') return { section };
  return page === 'guide' ? { entry } : {};
}

/** The secret of a link that was handed out, where the address holds one. */
export const tokenOf = (hash: string): string | undefined =>
  /^#\/(?:shared|owner)\/([\w-]{20,200})$/.exec(hash)?.[1];
