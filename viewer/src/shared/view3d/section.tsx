/** Where the boat is cut open, in three dimensions: a station, a waterline or a buttock. */
import { useLayoutEffect, useState } from 'preact/hooks';
import type { BoatView, Cut, CutKind } from '../../scene/view.ts';
import type { FlatPoint } from '../boat/points.ts';
import { choiceOf } from '../words/choice.ts';
import { quantity } from '../words/numbers.ts';
import type { Ref } from './use-boat-view.ts';

interface CutDirection {
  /** Which of the boat's axes it is square to. */
  readonly axis: 0 | 1 | 2;
  readonly words: (at: number) => string;
}

const metres = (at: number) => quantity(Math.abs(at), 'm', 0.01);
const CUTS: readonly CutKind[] = ['station', 'waterline', 'buttock'];
const CUT_DIRECTIONS: Readonly<Record<CutKind, CutDirection>> = {
  station: { axis: 0, words: (x) => `${metres(x)} ${x < 0 ? 'forward' : 'aft'}` },
  waterline: { axis: 2, words: (z) => `${metres(z)} ${z < 0 ? 'down' : 'up'}` },
  buttock: { axis: 1, words: (y) => `${metres(y)} to ${y < 0 ? 'port' : 'starboard'}` },
};
const STEP = 0.01;
/** Within this of the ends [m] nothing would be left, or nothing cut. */
const INSIDE = 0.02;

const inSteps = (at: number) => Number((Math.round(at / STEP) * STEP).toFixed(2));

export function SectionTool({ view }: { view: Ref<BoatView> }) {
  const [made, setMade] = useState<Cut>();
  const [range, setRange] = useState<FlatPoint>([0, 1]);
  useLayoutEffect(() => view.current?.cut(made), [made]);
  const choose = (kind: CutKind | undefined) => {
    const ends = kind && view.current?.bounds()[CUT_DIRECTIONS[kind].axis];
    if (!kind || !ends) {
      setMade(undefined);
      return;
    }
    setRange([inSteps(ends[0] + INSIDE), inSteps(ends[1] - INSIDE)]);
    setMade({ kind, at: kind === 'station' ? inSteps((ends[0] + ends[1]) / 2) : 0 });
  };
  return (
    <div class="section-tool">
      <label>
        <span class="unseen">cut at</span>
        <select
          value={made?.kind ?? ''}
          onChange={(e) => choose(choiceOf(CUTS, e.currentTarget.value))}
        >
          <option value="">no cut</option>
          {CUTS.map((kind) => (
            <option key={kind} value={kind}>
              {kind}
            </option>
          ))}
        </select>
      </label>
      {made && (
        <>
          <input
            type="range"
            aria-label={`Place of the ${made.kind}`}
            aria-valuetext={CUT_DIRECTIONS[made.kind].words(made.at)}
            min={range[0]}
            max={range[1]}
            step={STEP}
            value={made.at}
            onInput={(e) => setMade({ ...made, at: inSteps(e.currentTarget.valueAsNumber) })}
          />
          <output>{CUT_DIRECTIONS[made.kind].words(made.at)}</output>
        </>
      )}
    </div>
  );
}
