/** How the pack is doing, how the review stands, and what to beware of before cutting. */

import type { Cutting } from '../contract.ts';
import { useKnown } from '../session/context.tsx';
import { NotScreened } from '../shared/feedback/cautions.tsx';
import { Seconds } from '../shared/feedback/seconds.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { reworded } from '../shared/words/sentences.ts';
import type { CutPack } from './use-cutting.ts';
import { isSafe, nestWords, stampOf } from './words.ts';

const TOPICS = [
  'before cutting',
  'hot work',
  'closed spaces',
  'fumes and current',
  'sealed ballast',
  'old plate',
  'dust and solvents',
  'shoring and shape',
];

export function PackState({ shop }: { shop: CutPack }) {
  const { status, trouble, begin, cancel } = shop;
  if (!status) return <p class="lead">{trouble || 'Looking for a cut pack…'}</p>;
  return (
    <div class="pack-state" aria-live="polite">
      <p class="lead">
        {reworded(status.sentence)} {nestWords(status)}
      </p>
      <WhenEditable>
        <MakeOrStop status={status} begin={begin} cancel={cancel} />
      </WhenEditable>
      {(trouble || status.problem) && (
        <p class="refused" role="alert">
          {trouble || status.problem?.detail}
        </p>
      )}
      {status.nests !== 'none' && <Beware shop={shop} />}
    </div>
  );
}

interface MakeProps extends Pick<CutPack, 'begin' | 'cancel'> {
  readonly status: Cutting;
}

const MakeOrStop = ({ status, begin, cancel }: MakeProps) => (
  <p class="pack-do">
    {status.state === 'working' ? (
      <button type="button" onClick={cancel}>
        Stop
        <Seconds />
      </button>
    ) : (
      <button type="button" onClick={begin}>
        {status.nests === 'none' ? 'Make the cut pack' : 'Make it again'}
      </button>
    )}
    <span class="about"> Quick nests in seconds, better ones in a minute or two.</span>
  </p>
);

function Beware({ shop }: { shop: CutPack }) {
  const { cautions } = useKnown();
  const { status, answer } = shop;
  if (!status) return null;
  const stamp = stampOf(status);
  return (
    <>
      <p class={`pack-stamp ${isSafe(status) ? '' : 'unsafe'}`}>
        <b>{stamp.toUpperCase()}</b>{' '}
        {isSafe(status) ? '' : 'Cut nothing on a stale or unsigned review. '}
        {[status.standing.sentence, ...status.standing.conflicts].join(' ')} Document{' '}
        {answer?.document_sha256.slice(0, 8)}: compare it with label, sheet and file before the
        first cut.
      </p>
      <NotScreened />
      <details class="pack-cautions">
        <summary>Before burning and welding</summary>
        <ul>
          {cautions
            .filter((one) => TOPICS.includes(one.topic))
            .map((one) => (
              <li key={one.topic}>
                {reworded(one.sentence)} <small>{one.source}</small>
              </li>
            ))}
        </ul>
      </details>
    </>
  );
}
