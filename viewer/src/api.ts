/** What is asked of the server; every refusal comes as one kind of error. */
import type {
  Caution,
  Edit,
  LinesText,
  PartKind,
  Problem,
  RecordAnswer,
  RefitCard,
  Working,
} from './contract.ts';

/** A refusal in the server's own words. */
export class Refusal extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.detail || problem.title);
    this.problem = problem;
  }
}

/** The server did not answer at all. */
export class Unreachable extends Error {}

/** What is looked at: a condition, and the option or the first drawing. */
export interface View {
  readonly condition: string | undefined;
  readonly option: string | null;
}

type Body = Edit | LinesText | { readonly name: string };

interface Request {
  readonly method?: 'GET' | 'PATCH' | 'POST';
  readonly body?: Body;
  readonly edit?: number;
  readonly signal?: AbortSignal;
}

const working = (refit: string) => `/api/refits/${encodeURIComponent(refit)}/revisions/working`;

function query(view: View, more: Readonly<Record<string, boolean>> = {}): string {
  const words = new URLSearchParams();
  if (view.condition) words.set('condition', view.condition);
  if (view.option !== null) words.set('option', view.option);
  for (const [name, value] of Object.entries(more)) words.set(name, String(value));
  const text = words.toString();
  return text && `?${text}`;
}

type Reach = (path: string, init?: RequestInit) => Promise<Response>;
let reach: Reach = (path, init) => fetch(path, init);

/** Asks somebody else than the server this page came from. */
export function askInstead(other: Reach): void {
  reach = other;
}

async function ask<Answer>(path: string, request: Request = {}): Promise<Answer> {
  const headers = new Headers({ accept: 'application/json' });
  if (request.body !== undefined) headers.set('content-type', 'application/json');
  if (request.edit !== undefined) headers.set('if-match', `"${request.edit}"`);
  const response = await reach(path, {
    method: request.method ?? 'GET',
    headers,
    signal: request.signal ?? null,
    body: request.body === undefined ? null : JSON.stringify(request.body),
  }).catch((error: unknown) => {
    if (request.signal?.aborted) throw error;
    throw new Unreachable('The server does not answer. Is hullchange still running?');
  });
  if (response.ok) return (await response.json()) as Answer;
  throw new Refusal(await problemOf(response));
}

async function problemOf(response: Response): Promise<Problem> {
  const isProblem = response.headers.get('content-type')?.includes('problem+json');
  if (isProblem) return (await response.json()) as Problem;
  return {
    type: 'about:blank',
    title: response.statusText,
    status: response.status,
    detail: `The server answered ${response.status} ${response.statusText}.`,
    code: `http-${response.status}`,
    faults: [],
  };
}

export const refits = () => ask<readonly RefitCard[]>('/api/refits');
export const kinds = () => ask<readonly PartKind[]>('/api/kinds');
export const cautions = () => ask<readonly Caution[]>('/api/cautions');
export const beginRefit = (name: string) =>
  ask<RefitCard>('/api/refits', { method: 'POST', body: { name } });

export const read = (refit: string, view: View, full: boolean, signal?: AbortSignal) =>
  ask<Working>(`${working(refit)}${query(view, { full })}`, signal ? { signal } : {});
export const apply = (refit: string, view: View, edit: number, body: Edit) =>
  ask<Working>(`${working(refit)}${query(view)}`, { method: 'PATCH', body, edit });
export const travel = (
  refit: string,
  view: View,
  edit: number,
  { way, levers }: { readonly way: 'undo' | 'redo'; readonly levers: boolean },
) =>
  ask<Working>(`${working(refit)}/${way}${query(view, { levers })}`, {
    method: 'POST',
    edit,
  });
export const sendLines = (refit: string, view: View, edit: number, csv: string) =>
  ask<Working>(`${working(refit)}/lines${query(view)}`, {
    method: 'POST',
    body: { csv },
    edit,
  });
export const record = (refit: string, view: View) =>
  ask<RecordAnswer>(`${working(refit)}/record${query(view)}`);

/** A mesh by the path that names its content; the browser's own cache holds it. */
export async function mesh(path: string): Promise<ArrayBuffer> {
  const response = await reach(path);
  if (!response.ok) throw new Refusal(await problemOf(response));
  return response.arrayBuffer();
}
