/** Sign-off: the latest verdicts on the whole and on each part, and giving one. */
import { useState } from 'preact/hooks';
import type { NewSignature, Signature } from '../contract.ts';
import { useBoat, useKnown, useReview } from '../session/context.tsx';
import { type Signable, shortHash, VERDICTS, verdictsOn, whenWords } from '../session/review.ts';
import { AuthorField, authorIn } from '../shared/comments/author.tsx';
import { NotScreened } from '../shared/feedback/cautions.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { choiceOf } from '../shared/words/choice.ts';
import { VERDICT_WORDS } from '../shared/words/constants.ts';
import { title } from '../shared/words/plain-words.ts';
import { documentValueWords } from './document-values.ts';

export function SignOff() {
  const { working } = useBoat();
  const { reviewState, signable } = useReview();
  const { inFile } = useKnown();
  const signatures = reviewState.review?.signatures ?? [];
  const parts = working.assessment.parts.map((part) => part.id);
  return (
    <section class="sign-off" aria-label="Sign-off">
      <NotScreened />
      <ScrollBox label="What is signed">
        <table>
          <thead>
            <tr>
              <th scope="col">what</th>
              <th scope="col">verdict</th>
              <th scope="col">by</th>
              <th scope="col">for {inFile ? signable?.words : 'the working copy'}</th>
            </tr>
          </thead>
          <tbody>
            <Verdicts name="The whole refit" given={verdictsOn(signatures, null)} />
            {parts.map((part) => (
              <Verdicts key={part} name={title(part)} given={verdictsOn(signatures, part)} />
            ))}
          </tbody>
        </table>
      </ScrollBox>
      {signable ? (
        <Sign parts={parts} looked={signable} />
      ) : (
        <p class="about">Only a frozen revision can be signed. Open one to sign it.</p>
      )}
      {signatures.length > 0 && <History signatures={signatures} />}
    </section>
  );
}

/** A row for each reviewer: none speaks for another. */
function Verdicts({ name, given }: { name: string; given: readonly Signature[] }) {
  const rows = given.length > 0 ? given : [undefined];
  return (
    <>
      {rows.map((one, i) => (
        <tr key={one?.id ?? name}>
          {i === 0 && (
            <th scope="row" rowSpan={rows.length}>
              {name}
            </th>
          )}
          <td>{VERDICT_WORDS[one?.verdict ?? 'not-looked-at']}</td>
          <td>{one && `${one.author}, ${revisionWords(one)}`}</td>
          <td>{one && standsWords(one)}</td>
        </tr>
      ))}
    </>
  );
}

/** Whether a verdict still holds; one given in the file has not arrived anywhere. */
function standsWords({ arrival, is_stale }: Signature) {
  if (arrival === 0) return 'counts once merged';
  return is_stale ? <b>stale</b> : 'still valid';
}

const revisionWords = ({ revision }: Signature) =>
  revision === null ? 'a revision that is not here' : `revision ${revision}`;

function Sign({ parts, looked }: { parts: readonly string[]; looked: Signable }) {
  const { reviewStore, reviewState } = useReview();
  const isOld = reviewState.revisions.some(
    (one) => one.number === looked.revision && one.has_newer,
  );
  const { busy, wrong, run } = useAction();
  const [verdict, setVerdict] = useState<NewSignature['verdict']>();
  const [done, setDone] = useState('');
  const send = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    if (!verdict) return;
    const conditions = String(data.get('conditions') ?? '').split('\n');
    const signed = await run(() =>
      reviewStore.sign(
        {
          revision_sha256: looked.sha256,
          part: String(data.get('part')) || null,
          verdict,
          scope: String(data.get('scope')),
          conditions: conditions.map((one) => one.trim()).filter(Boolean),
        },
        authorIn(data),
      ),
    );
    setDone(signed ? `${title(looked.words)}: ${VERDICT_WORDS[verdict]}.` : '');
  };
  return (
    <form class="asking" aria-label="Sign" onSubmit={(event) => void send(event)}>
      <label>
        <span>you reviewed</span>
        <select name="part">
          <option value="">the whole refit</option>
          {parts.map((part) => (
            <option key={part} value={part}>
              {title(part)}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>your verdict</span>
        <select
          required
          value={verdict ?? ''}
          onChange={(e) => setVerdict(choiceOf(VERDICTS, e.currentTarget.value) ?? verdict)}
        >
          {/* nobody agrees by leaving it as it is */}
          <option value="" disabled>
            choose
          </option>
          {Object.entries(VERDICT_WORDS).map(([id, words]) => (
            <option key={id} value={id}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>what you reviewed, such as “floating and stability only”</span>
        <input name="scope" required maxLength={4000} />
      </label>
      {verdict === 'agreed-with-conditions' && (
        <label class="wide">
          <span>conditions, one per line</span>
          <textarea name="conditions" rows={3} required maxLength={4000} />
        </label>
      )}
      <AuthorField />
      {isOld && (
        <p class="wide">
          <b>There is a newer revision.</b> Sign {looked.words} only if it is the one you mean.
        </p>
      )}
      <button type="submit" disabled={busy}>
        Sign {looked.words} ({shortHash(looked.sha256)})
      </button>
      <RefusalMessage words={wrong} />
      <p role="status" class="about">
        {done}
      </p>
    </form>
  );
}

/** Every signature, the latest first, with what made it stale. */
function History({ signatures }: { signatures: readonly Signature[] }) {
  return (
    <ol class="signatures" aria-label="Signatures">
      {signatures.toReversed().map((one) => (
        <li key={one.id}>
          <p>
            <b>
              {one.part === null ? 'The whole refit' : title(one.part)}:{' '}
              {VERDICT_WORDS[one.verdict]}
            </b>
            , {revisionWords(one)} (<code>{shortHash(one.revision_sha256)}</code>), {one.scope}
          </p>
          <p class="by">
            {one.author}, {whenWords(one)}, through {one.through}
            {one.is_superseded && ' · replaced by a later verdict'}
          </p>
          {one.conditions.length > 0 && (
            <ul class="conditions-of">
              {one.conditions.map((condition) => (
                <li key={condition}>{condition}</li>
              ))}
            </ul>
          )}
          {one.is_stale && (
            <details>
              <summary>
                <b>Stale</b>: {one.why_stale}
              </summary>
              <ul>
                {one.changed.map(({ path, before, after }) => (
                  <li key={path}>
                    <code>{path}</code> {documentValueWords(before)} → {documentValueWords(after)}
                  </li>
                ))}
              </ul>
            </details>
          )}
        </li>
      ))}
    </ol>
  );
}
