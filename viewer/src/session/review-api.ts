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
import { ask, pathOf, sendFile } from './api.ts';

export const visitor = () => ask<Visitor>('/api/visitor');
export const giveName = (name: string) =>
  ask<undefined>('/api/visitor', { method: 'POST', body: { name } });
export const enter = (token: string) =>
  ask<undefined>('/api/entry', { method: 'POST', body: { token } });
export const leave = () => ask<undefined>('/api/entry', { method: 'DELETE' });

export const review = (refit: string) => ask<Review>(pathOf(refit, 'review'));
export const revisions = (refit: string) =>
  ask<readonly ListedRevision[]>(pathOf(refit, 'revisions'));
export const attachments = (refit: string) =>
  ask<readonly AttachmentCard[]>(pathOf(refit, 'attachments'));
export const shares = (refit: string) => ask<readonly ShareCard[]>(pathOf(refit, 'shares'));

export const freeze = (refit: string, edit: number, note: string) =>
  ask<RevisionCard>(pathOf(refit, 'revisions'), { method: 'POST', body: { note }, edit });
export const comment = (refit: string, body: NewComment) =>
  ask<Review>(pathOf(refit, 'comments'), { method: 'POST', body });
export const remark = (refit: string, on: string, body: NewRemark) =>
  ask<Review>(pathOf(refit, `comments/${on}/remarks`), { method: 'POST', body });
export const sign = (refit: string, body: NewSignature) =>
  ask<Review>(pathOf(refit, 'signatures'), { method: 'POST', body });
export const share = (refit: string, body: NewShare) =>
  ask<NewLink>(pathOf(refit, 'shares'), { method: 'POST', body });
export const revoke = (refit: string, id: string) =>
  ask<ShareCard>(pathOf(refit, `shares/${id}`), { method: 'DELETE' });

export const attach = (refit: string, id: string, file: File, author: string) => {
  const query = new URLSearchParams({ id, name: file.name, ...(author && { author }) });
  return sendFile<AttachmentCard>(pathOf(refit, `attachments?${query}`), file);
};
export const deleteFile = (refit: string, id: string) =>
  ask<AttachmentCard>(attachmentPath(refit, id), { method: 'DELETE' });
export const bringBackFile = (refit: string, id: string) =>
  ask<AttachmentCard>(`${attachmentPath(refit, id)}/back`, { method: 'POST' });
export const attachmentPath = (refit: string, id: string) => pathOf(refit, `attachments/${id}`);

/** Where a revision is to be had as one file that needs no server. */
export const pageOf = (refit: string, revision: number, option: string | null) => {
  const query = option === null ? '' : `?${new URLSearchParams({ option })}`;
  return pathOf(refit, `revisions/${revision}/page.html${query}`);
};
/** Takes up what was said in such a file, as it was saved there. */
export const merge = (refit: string, body: ReviewFile) =>
  ask<Merged>(pathOf(refit, 'review-file'), { method: 'POST', body });

/** What is not the same in a revision, or in the working copy, as in an earlier revision. */
export const since = (
  refit: string,
  before: number,
  after: number | undefined,
  option: string | null,
) => {
  const query = option === null ? '' : `?${new URLSearchParams({ option })}`;
  return ask<Compared>(pathOf(refit, `revisions/${after ?? 'working'}/since/${before}${query}`));
};
