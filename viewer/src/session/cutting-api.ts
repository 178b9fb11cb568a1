/** What is asked of the server about cutting. */

import type {
  CutAnswer,
  CutFiles,
  Cutting,
  ListTaken,
  NewTicks,
  ShopProgress,
} from '../contract.ts';
import { addressOf, ask, sendFile, withQuery } from './api.ts';

/** Whose steel: the working copy or a revision of a refit, the base design or an option. */
export interface Source {
  readonly refit: string;
  readonly revision: number | undefined;
  readonly option: string | null;
}

/** The address of something about a pack. */
export function cuttingPath(
  { refit, revision, option }: Source,
  rest = '',
  more: Readonly<Record<string, string>> = {},
): string {
  const path = addressOf(refit, `revisions/${revision ?? 'working'}/cutting${rest}`);
  return withQuery(path, { ...more, option });
}

export const status = (source: Source) => ask<Cutting>(cuttingPath(source));
export const begin = (source: Source) => ask<Cutting>(cuttingPath(source), { method: 'POST' });
export const cancel = (source: Source) => ask<Cutting>(cuttingPath(source), { method: 'DELETE' });
export const answer = (source: Source) => ask<CutAnswer>(cuttingPath(source, '/answer'));
export const files = (source: Source, signal: AbortSignal) =>
  ask<CutFiles>(cuttingPath(source, '/files'), { signal });
export const progress = (source: Source) => ask<ShopProgress>(cuttingPath(source, '/progress'));
export const tick = (source: Source, body: NewTicks) =>
  ask<ShopProgress>(cuttingPath(source, '/progress'), { method: 'POST', body });
export const giveList = (source: Source, file: File, author: string) =>
  sendFile<ListTaken>(cuttingPath(source, '/progress/list', { name: file.name, author }), file);
