/** A file that holds a refit: its own data answer what a server would be asked for. */
import type {
  Caution,
  PartKind,
  Problem,
  Profile,
  RecordAnswer,
  RefitCard,
  Working,
} from './contract.ts';

export interface Kept {
  readonly refits: readonly RefitCard[];
  readonly kinds: readonly PartKind[];
  readonly cautions: readonly Caution[];
  readonly working: Working;
  readonly profiles: Readonly<Record<string, Profile>>;
}

/** Text of the data block of a name; undefined where the file has none. */
export type Island = (name: string) => string | undefined;

export const islandOf: Island = (name) =>
  document.getElementById(name)?.textContent ?? undefined;

/** The refit this file holds; undefined where a server answers. */
export function keptIn(island: Island): Kept | undefined {
  const text = island('refit');
  return text === undefined ? undefined : (JSON.parse(text) as Kept);
}

const REFUSED: Problem = {
  type: 'about:blank',
  title: 'Read only',
  status: 403,
  detail: 'This file is read only: ask its owner for the change.',
  code: 'read-only',
  faults: [],
};

/** Answers in the place of `fetch`, from what is kept. */
export function answersFrom(kept: Kept, island: Island) {
  return async (path: string, init: RequestInit = {}): Promise<Response> => {
    const address = new URL(path, 'file:///');
    if ((init.method ?? 'GET') !== 'GET') return refusal();
    if (address.pathname === '/api/refits') return Response.json(kept.refits);
    if (address.pathname === '/api/kinds') return Response.json(kept.kinds);
    if (address.pathname === '/api/cautions') return Response.json(kept.cautions);
    if (address.pathname.endsWith('/record')) return Response.json(recordOf(kept));
    if (address.pathname.endsWith('/working'))
      return Response.json(lookedAt(kept, address.searchParams.get('condition')));
    const mesh = island(address.pathname.slice(1));
    return mesh === undefined ? refusal() : unpacked(mesh);
  };
}

const recordOf = ({ working }: Kept): RecordAnswer => ({
  edit: working.edit,
  record: working.assessment.record,
});

function lookedAt({ working, profiles }: Kept, condition: string | null): Working {
  const profile = condition === null ? undefined : profiles[condition];
  return condition === null || !profile ? working : { ...working, condition, profile };
}

const refusal = () =>
  new Response(JSON.stringify(REFUSED), {
    status: REFUSED.status,
    headers: { 'content-type': 'application/problem+json' },
  });

function unpacked(packed: string): Response {
  const bytes = Uint8Array.from(atob(packed), (sign) => sign.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip')));
}
