/** A first guess at the lines from a type and the main dimensions. */
import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { dimensionLines } from '../../session/hull-sources-api.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { UnderWay } from '../../shared/feedback/under-way.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { HullDimensions, hullDimensionsIn } from '../../shared/input/main-dimensions.tsx';
import { Preview } from './preview.tsx';

export function DimensionsSource() {
  const { refit } = useBoat().working;
  const [preview, setPreview] = useState<LinesPreview>();
  const [missing, setMissing] = useState('');
  const { busy, wrong, run, stop } = useAction();
  const guess = (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const { given, trouble } = hullDimensionsIn(new FormData(event.currentTarget));
    setMissing(trouble);
    setPreview(undefined);
    if (given) void run(async (signal) => setPreview(await dimensionLines(refit, given, signal)));
  };
  return (
    <form class="source" onSubmit={guess} aria-label="Main dimensions">
      <p class="about">
        Lines of a typical boat of this size: good for trends and immersion (kg/cm), not for
        stability. Replace them with measured lines later, one by one.
      </p>
      <HullDimensions />
      <button type="submit" disabled={busy}>
        Guess her lines
      </button>{' '}
      {busy && <UnderWay words="Drawing her lines…" stop={stop} />}
      <RefusalMessage words={missing || wrong} />
      {preview && <Preview preview={preview} note="guessed from main dimensions" />}
    </form>
  );
}
