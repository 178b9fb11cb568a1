/** What is asked of the server; every refusal comes as one kind of error. */

import type {
  Caution,
  DocumentGrammar,
  Edit,
  ExampleCard,
  Explanation,
  FirstNumbers,
  Frozen,
  Outline,
  PartKind,
  Problem,
  RecordAnswer,
  RefitCard,
  TradeResult,
  WeightMarginResult,
  Working,
} from '../contract.ts';
import { writing } from '../shared/words/writing.ts';
import { answerIn } from './wire.ts';

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

/** What is looked at: a condition, the option or the base design, a revision or the working copy. */
export interface View {
  readonly condition: string | undefined;
  readonly option: string | null;
  readonly revision?: number | undefined;
}

interface Request {
  readonly method?: 'GET' | 'PATCH' | 'POST' | 'DELETE';
  readonly body?: object;
  readonly edit?: number;
  readonly signal?: AbortSignal;
}

/** The path of a refit, and of what belongs to it. */
export const addressOf = (refit: string, rest: string) =>
  `/api/refits/${encodeURIComponent(refit)}/${rest}`;
const working = (refit: string) => addressOf(refit, 'revisions/working');

type QueryValue = string | number | boolean | null | undefined;

/** A path with its query; values that are null or undefined are left out. */
export function withQuery(path: string, values: Readonly<Record<string, QueryValue>>): string {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(values))
    if (value !== null && value !== undefined) query.set(name, String(value));
  return query.size > 0 ? `${path}?${query}` : path;
}

/** A path with the condition and option that are shown, and further queries. */
export const withView = (
  path: string,
  { condition, option }: View,
  more: Readonly<Record<string, QueryValue>> = {},
): string => withQuery(path, { condition: condition === '' ? null : condition, option, ...more });

type Fetch = (path: string, init?: RequestInit) => Promise<Response>;
let reach: Fetch = (path, init) => fetch(path, init);

/** Asks somebody else than the server this page came from. */
export function askInstead(other: Fetch): void {
  reach = other;
}

/** Asks, and answers what was answered; nothing where there is no content. */
export function ask<Answer>(path: string, request: Request = {}): Promise<Answer> {
  const headers = new Headers({ accept: 'application/json' });
  if (request.body !== undefined) headers.set('content-type', 'application/json');
  if (request.edit !== undefined) headers.set('if-match', `"${request.edit}"`);
  return answered(path, {
    method: request.method ?? 'GET',
    headers,
    signal: request.signal ?? null,
    body: request.body === undefined ? null : JSON.stringify(request.body),
  });
}

/** Sends a file as it is. */
export const sendFile = <Answer>(
  path: string,
  content: Blob,
  signal?: AbortSignal,
): Promise<Answer> =>
  answered(path, {
    method: 'POST',
    signal: signal ?? null,
    headers: { accept: 'application/json', 'content-type': 'application/octet-stream' },
    body: content,
  });

/** Sends a file as it is, for another that is made of it; a number may come with that. */
export async function sentForFile(
  path: string,
  content: Blob,
  header: string,
): Promise<{ readonly content: Blob; readonly number: number }> {
  const headers = { 'content-type': 'application/octet-stream' };
  const response = await reached(path, { method: 'POST', headers, body: content });
  return { content: await response.blob(), number: Number(response.headers.get(header)) };
}

const answered = async <Answer>(path: string, init: RequestInit): Promise<Answer> =>
  answerIn(await reached(path, init));

/** What came back; a refusal and silence are errors in words. */
async function reached(path: string, init: RequestInit = {}): Promise<Response> {
  const response = await reach(path, init).catch((error: unknown) => {
    if (init.signal?.aborted) throw error;
    throw new Unreachable('The server does not answer. Is hullchange still running?');
  });
  if (!response.ok) throw new Refusal(await problemOf(response));
  return response;
}

async function problemOf(response: Response): Promise<Problem> {
  const isProblem = response.headers.get('content-type')?.includes('problem+json');
  if (isProblem) return answerIn(response);
  const { status, statusText: title } = response;
  return problem(status, `http-${status}`, title, `The server answered ${status} ${title}.`);
}

/** A problem in the shape of the server's, without faults and offers. */
export const problem = (status: number, code: string, title: string, detail: string): Problem => ({
  type: 'about:blank',
  title,
  status,
  detail,
  code,
  faults: [],
  offers: [],
});

export const refits = () => ask<readonly RefitCard[]>('/api/refits');
export const kinds = () => ask<readonly PartKind[]>('/api/kinds');
export const grammar = () => ask<DocumentGrammar>('/api/grammar');
export const cautions = () => ask<readonly Caution[]>('/api/cautions');
export const beginRefit = (name: string, dimensions: FirstNumbers, signal: AbortSignal) =>
  ask<RefitCard>('/api/refits', { method: 'POST', body: { name, dimensions }, signal });

export const copyRefit = (refit: string, name: string, signal: AbortSignal) =>
  ask<RefitCard>(addressOf(refit, 'copy'), { method: 'POST', body: { name }, signal });
/** The refit from the side, for a small picture. */
export const outlines = (refit: string) => ask<readonly Outline[]>(addressOf(refit, 'outlines'));
export const openDocument = (text: string, signal: AbortSignal) =>
  ask<RefitCard>('/api/documents', { method: 'POST', body: { text }, signal });
export const examples = () => ask<readonly ExampleCard[]>('/api/examples');
export const openExample = (example: string, signal: AbortSignal) =>
  ask<RefitCard>(`/api/examples/${encodeURIComponent(example)}`, { method: 'POST', signal });

export const deleteRefit = (refit: string) =>
  ask<undefined>(`/api/refits/${encodeURIComponent(refit)}`, { method: 'DELETE' });
export const deletedRefits = () => ask<readonly RefitCard[]>('/api/deleted');
export const bringBack = (refit: string) =>
  ask<RefitCard>(`/api/deleted/${encodeURIComponent(refit)}`, { method: 'POST' });

export async function read(
  refit: string,
  view: View,
  { full, levers }: { readonly full: boolean; readonly levers: boolean },
  signal?: AbortSignal,
): Promise<Working> {
  const request = signal ? { signal } : {};
  const wanted = levers && !full ? { full, levers } : { full };
  if (view.revision === undefined) return ask(withView(working(refit), view, wanted), request);
  const path = addressOf(refit, `revisions/${view.revision}`);
  return asWorking(await ask<Frozen>(withView(path, view), request));
}

/** A frozen revision as the pages show it: whole, and never changed. */
const asWorking = ({ revision, ...frozen }: Frozen): Working => ({
  refit: frozen.refit,
  edit: revision.edit,
  kept_in: `revision ${revision.number}`,
  can_undo: false,
  can_redo: false,
  undo_label: '',
  redo_label: '',
  saved: true,
  trouble: '',
  document: frozen.document,
  options: frozen.options,
  option: frozen.option,
  condition: frozen.condition,
  partial: false,
  assessment: frozen.assessment,
  profile: frozen.profile,
  scene: frozen.scene,
});

/** What the refit may still take; the ratios owners quote, old and new. */
export const allowance = (refit: string, option: string | null, signal: AbortSignal) =>
  ask<WeightMarginResult>(withQuery(`${working(refit)}/allowance`, { option }), { signal });
export const ratios = (refit: string, option: string | null, signal: AbortSignal) =>
  ask<TradeResult>(withQuery(`${working(refit)}/ratios`, { option }), { signal });

export const apply = (refit: string, view: View, edit: number, body: Edit) =>
  ask<Working>(withView(working(refit), view), { method: 'PATCH', body, edit });
export const undoOrRedo = (
  refit: string,
  view: View,
  edit: number,
  { way, levers }: { readonly way: 'undo' | 'redo'; readonly levers: boolean },
) => ask<Working>(withView(`${working(refit)}/${way}`, view, { levers }), { method: 'POST', edit });
export const record = (refit: string, view: View) =>
  ask<RecordAnswer>(withView(`${working(refit)}/record`, view));

export const explain = (
  refit: string,
  { option, revision }: Pick<View, 'option' | 'revision'>,
  path: string,
  signal: AbortSignal,
) => {
  const address = addressOf(refit, `revisions/${revision ?? 'working'}/explanation`);
  return ask<Explanation>(withQuery(address, { path, option }), { signal });
};

/** A mesh by the path that names its content; the browser's own cache holds it. */
export const mesh = async (path: string): Promise<ArrayBuffer> =>
  (await reached(path)).arrayBuffer();

/** A file the server makes, under the name it gives it. */
export interface Made {
  readonly name: string;
  readonly content: Blob;
}

/** The name that a file comes under, plain or spelled out. */
export function nameIn(disposition: string): string {
  const spelled = /filename\*=UTF-8''([^;]+)/.exec(disposition)?.[1];
  return spelled
    ? decodeURIComponent(spelled)
    : (/filename="(.+)"/.exec(disposition)?.[1] ?? 'file');
}

/** A file that the server makes; `far` is called with the number of bytes received so far. */
export async function made(
  path: string,
  signal?: AbortSignal,
  far?: (bytes: number) => void,
): Promise<Made> {
  const response = await reached(path, { signal: signal ?? null });
  const name = nameIn(response.headers.get('content-disposition') ?? '');
  const kind = response.headers.get('content-type') ?? '';
  const parts: Uint8Array<ArrayBuffer>[] = [];
  let bytes = 0;
  for (const reader = response.body?.getReader(); reader; ) {
    const { value } = await reader.read();
    if (value === undefined) break;
    parts.push(value);
    bytes += value.length;
    far?.(bytes);
  }
  return { name, content: new Blob(parts, { type: kind }) };
}

/** A file for other programs, of the working copy or a revision. */
export const exported = (
  refit: string,
  name: string,
  view: View,
  signal?: AbortSignal,
): Promise<Made> => {
  const path = addressOf(refit, `revisions/${view.revision ?? 'working'}/files/${name}`);
  return made(withView(path, view, tableQuery()), signal);
};

/** How tables are written, where it is not metric with a point. */
const tableQuery = () => {
  const { units, decimal } = writing();
  return {
    units: units === 'metric' ? null : 'imperial',
    decimal: decimal === '.' ? null : 'comma',
  };
};

/** Where all of a refit is to be had as one file. */
export const archiveOf = (refit: string) => `/api/refits/${encodeURIComponent(refit)}/archive`;

/** A refit taken up again from its archive, under another name where one is given. */
export function restore(archive: File, name: string, signal: AbortSignal): Promise<RefitCard> {
  const path = withQuery('/api/archive', { name: name || null });
  const headers = { 'content-type': 'application/zip' };
  return answered(path, { method: 'POST', headers, body: archive, signal });
}
