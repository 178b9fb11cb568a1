/** What is asked of the server about a review. */

import type {
  AttachmentCard,
  Compared,
  ListedRevision,
  Merged,
  NewComment,
  NewLink,
  NewRemark,
  NewShare,
  NewSignature,
  Review,
  ReviewFile,
  RevisionCard,
  ShareCard,
  Visitor,
} from '../contract.ts';
import { addressOf, ask, sendFile, withQuery } from './api.ts';

export const visitor = () => ask<Visitor>('/api/visitor');
export const giveName = (name: string) =>
  ask<undefined>('/api/visitor', { method: 'POST', body: { name } });
export const enter = (token: string) =>
  ask<undefined>('/api/entry', { method: 'POST', body: { token } });
export const leave = () => ask<undefined>('/api/entry', { method: 'DELETE' });

export const review = (refit: string) => ask<Review>(addressOf(refit, 'review'));
export const revisions = (refit: string) =>
  ask<readonly ListedRevision[]>(addressOf(refit, 'revisions'));
export const attachments = (refit: string) =>
  ask<readonly AttachmentCard[]>(addressOf(refit, 'attachments'));
export const shares = (refit: string) => ask<readonly ShareCard[]>(addressOf(refit, 'shares'));

export const freeze = (refit: string, edit: number, note: string, signal: AbortSignal) =>
  ask<RevisionCard>(addressOf(refit, 'revisions'), {
    method: 'POST',
    body: { note },
    edit,
    signal,
  });
export const comment = (refit: string, body: NewComment) =>
  ask<Review>(addressOf(refit, 'comments'), { method: 'POST', body });
export const remark = (refit: string, on: string, body: NewRemark) =>
  ask<Review>(addressOf(refit, `comments/${on}/remarks`), { method: 'POST', body });
export const sign = (refit: string, body: NewSignature) =>
  ask<Review>(addressOf(refit, 'signatures'), { method: 'POST', body });
export const share = (refit: string, body: NewShare) =>
  ask<NewLink>(addressOf(refit, 'shares'), { method: 'POST', body });
export const revoke = (refit: string, id: string) =>
  ask<ShareCard>(addressOf(refit, `shares/${id}`), { method: 'DELETE' });

export const attach = (refit: string, id: string, file: File, author: string) => {
  const query = { id, name: file.name, author: author || null };
  return sendFile<AttachmentCard>(withQuery(addressOf(refit, 'attachments'), query), file);
};
export const deleteFile = (refit: string, id: string) =>
  ask<AttachmentCard>(attachmentPath(refit, id), { method: 'DELETE' });
export const bringBackFile = (refit: string, id: string) =>
  ask<AttachmentCard>(`${attachmentPath(refit, id)}/back`, { method: 'POST' });
export const attachmentPath = (refit: string, id: string) => addressOf(refit, `attachments/${id}`);

/** Where a revision is to be had as one file that needs no server. */
export const pageOf = (refit: string, revision: number, option: string | null) =>
  withQuery(addressOf(refit, `revisions/${revision}/page.html`), { option });
/** Where it is to be had as a page to show to anybody, without ledger and review. */
export const showPageOf = (refit: string, revision: number, option: string | null) =>
  withQuery(addressOf(refit, `revisions/${revision}/show.html`), { option });
/** Merges a review file, as it was saved. */
export const merge = (refit: string, body: ReviewFile) =>
  ask<Merged>(addressOf(refit, 'review-file'), { method: 'POST', body });

/** What is not the same in a revision, or in the working copy, as in an earlier revision. */
export const since = (
  refit: string,
  before: number,
  after: number | undefined,
  option: string | null,
) => {
  const path = addressOf(refit, `revisions/${after ?? 'working'}/since/${before}`);
  return ask<Compared>(withQuery(path, { option }));
};
