/** A file that holds a refit, and what is in it. */
import type {
  Caution,
  Compared,
  DocumentGrammar,
  ListedRevision,
  PartKind,
  Profile,
  RefitCard,
  Review,
  Working,
} from '../../contract.ts';
import { parsed } from '../wire.ts';

export interface OfflineCopy {
  readonly refits: readonly RefitCard[];
  readonly cautions: readonly Caution[];
  readonly working: Working;
  /** The review of the revision it holds; null where it holds a document. */
  readonly reviewed: Reviewed | null;
}

/** What is packed beside it, being long. */
export interface FormsAndProfiles {
  readonly kinds: readonly PartKind[];
  readonly grammar: DocumentGrammar;
  /** By condition. */
  readonly profiles: Readonly<Record<string, Profile>>;
}

interface Reviewed {
  /** An earlier one, and the one it holds last. */
  readonly revisions: readonly ListedRevision[];
  readonly review: Review;
  /** Against the earlier one. */
  readonly since: Compared | null;
}

/** Text of the data block of a name; undefined where the file has none. */
export type DataBlock = (name: string) => string | undefined;

export const dataBlockOf: DataBlock = (name) =>
  document.getElementById(name)?.textContent ?? undefined;

/** The refit this file holds; undefined where a server answers. */
export function offlineCopyIn(dataBlock: DataBlock): OfflineCopy | undefined {
  const text = dataBlock('refit');
  return text === undefined ? undefined : parsed<OfflineCopy>(text);
}
