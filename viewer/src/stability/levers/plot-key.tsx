/** What the lines and areas of the plot of righting levers mean. */
import type { ConditionResult } from '../../contract.ts';
import { FILLED } from '../../shared/boat/levers.ts';
import { quantity } from '../../shared/words/numbers.ts';
import { type Also, AREAS } from './plot.ts';

interface KeyProps {
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
  readonly also: Also;
}

export function PlotKey({ now, before, also }: KeyProps) {
  return (
    <p class="plot-key">
      <Line look="now" words="refit, ± one standard deviation" />
      <Line look="bare" words="refit, without deckhouse buoyancy" />
      {before && <Line look="before" words="as found" />}
      {before && also.bareBefore && (
        <Line look="before bare" words="as found, without deckhouse buoyancy" />
      )}
      {also.dry && <Line look="dry" words="refit, cockpit dry up to its coaming" />}
      {now.wells_full && <Line look="filled" words={`refit, ${FILLED}`} />}
      {AREAS.map(([from, to]) => {
        const area = now.area_under_gz?.[`from_${from}_to_${to}_deg_m_rad`];
        return area === undefined ? null : (
          <span key={from}>
            <svg viewBox="0 0 28 8" aria-hidden="true">
              <path class={`area from-${from}`} d="M0,0H28V8H0Z" />
            </svg>{' '}
            {from} to {to}°: {quantity(area, 'm rad', 0.001)}
          </span>
        );
      })}
    </p>
  );
}

const Line = ({ look, words }: { look: string; words: string }) => (
  <span>
    <svg viewBox="0 0 28 8" aria-hidden="true">
      {look === 'now' && <path class="band" d="M0,1H28V7H0Z" />}
      <path class={`curve ${look}`} d="M0,4H28" />
    </svg>{' '}
    {words}
  </span>
);
