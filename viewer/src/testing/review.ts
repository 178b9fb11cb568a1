/** A review for tests: everything empty but what a test gives. */
import type {
  Comment,
  Compared,
  ListedRevision,
  NewComment,
  NewSignature,
  Review,
  Signature,
} from '../contract.ts';

export const commentOf = (more: Partial<Comment> = {}): Comment => ({
  id: '',
  on: { part: null, plate: null, path: null, point_m: null },
  kind: 'question',
  gate: null,
  text: '',
  author: '',
  through: '',
  written_at: '',
  arrived_at: null,
  revision_sha256: null,
  state: 'open',
  is_adrift: false,
  thread: [],
  ...more,
});

export const listedRevisionOf = (more: Partial<ListedRevision> = {}): ListedRevision => ({
  number: 0,
  note: '',
  made_at: '',
  edit: 0,
  tool: '',
  document_sha256: '',
  sha256: '',
  standing: {
    standing: 'unsigned',
    sentence: '',
    conflicts: [],
    revision: null,
    revision_sha256: null,
  },
  has_newer: false,
  ...more,
});

export const reviewOf = (more: Partial<Review> = {}): Review => ({
  refit: '',
  standing: {
    standing: 'unsigned',
    sentence: '',
    conflicts: [],
    revision: null,
    revision_sha256: null,
  },
  comments: [],
  loose_remarks: [],
  signatures: [],
  ...more,
});

export const signatureOf = (more: Partial<Signature> = {}): Signature => ({
  id: '',
  revision_sha256: '',
  revision: null,
  part: null,
  verdict: 'agreed',
  scope: '',
  conditions: [],
  author: '',
  through: '',
  written_at: '',
  arrived_at: null,
  arrival: 0,
  is_superseded: false,
  is_stale: false,
  changed: [],
  why_stale: '',
  ...more,
});

export const newCommentOf = (more: Partial<NewComment> = {}): NewComment => ({
  id: '',
  on: {},
  kind: 'question',
  text: '',
  ...more,
});

export const newSignatureOf = (more: Partial<NewSignature> = {}): NewSignature => ({
  id: '',
  revision_sha256: '',
  verdict: 'agreed',
  scope: '',
  ...more,
});

export const comparedOf = (more: Partial<Compared> = {}): Compared => ({
  comparison: { before: '', after: '', sentence: '', rows: [] },
  scene_before: [],
  scene_after: [],
  ...more,
});
