/** Whether a shared file is unchanged since it was made: its data against the digest beside it. */
import { problem } from '../../session/api.ts';
import { refusal } from '../../session/offline/answers.ts';

/** The name of the block that holds the digest. */
export const SEAL = 'seal';

/** A block of data in a page, as the element that holds it. */
interface SealedBlock {
  readonly id: string;
  readonly type: string;
  readonly textContent: string | null;
}

export type SealState = 'whole' | 'changed' | 'not checked';

const CHANGED =
  'This file was changed after it was made. Trust none of its figures, and do not sign: ask the owner to send it again.';
/** The warning for a file that may have been changed, on every page and on paper. */
export const SEAL_WORDS: Readonly<Record<Exclude<SealState, 'whole'>, string>> = {
  changed: CHANGED,
  'not checked':
    'This browser cannot check that the file is still as it was made: compare its figures with those of the owner before you sign.',
};

/** Of the blocks of data of a page, in their order. */
export async function sealState(
  blocks: readonly SealedBlock[],
  digest: Pick<SubtleCrypto, 'digest'> | undefined,
): Promise<SealState> {
  const seal = blocks.find(({ id }) => id === SEAL)?.textContent;
  if (!seal) return 'changed';
  if (!digest) return 'not checked';
  const text = blocks
    .filter(({ id }) => id !== SEAL)
    .map((one) => `<script type="${one.type}" id="${one.id}">${one.textContent}</script>\n`)
    .join('');
  const bytes = new Uint8Array(await digest.digest('SHA-256', new TextEncoder().encode(text)));
  const found = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return found === seal ? 'whole' : 'changed';
}

type Answers = (path: string, init?: RequestInit) => Promise<Response>;

/** Answers of a file that was changed: everything is read, nothing is signed. */
export const unsignable =
  (answers: Answers): Answers =>
  async (path, init) =>
    init?.method === 'POST' && path.endsWith('/signatures')
      ? refusal(problem(403, 'file-changed', 'Not signed', CHANGED))
      : answers(path, init);
