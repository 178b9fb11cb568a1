/** The scale of the colours, with words at its ends, and wedges where it is of trim. */
import { useBoat, useViewing } from '../../session/context.tsx';
import { massColour } from '../colour/colour.ts';
import { MEASURES, type MeasureName, measureWords } from '../colour/measures.ts';
import { MODES, measureColour, modeWords } from '../colour/paint.ts';
import { Wedge } from '../feedback/wedge.tsx';
import { choiceOf } from '../words/choice.ts';
import { quantity } from '../words/numbers.ts';

const STEPS = 20;
const shares = Array.from({ length: STEPS + 1 }, (_, i) => i / STEPS);

/** The choice of what she is coloured by, and what the colours mean. */
export function Legend() {
  const { mode, setMode } = useViewing();
  if (useBoat().working.assessment.changes.length === 0) return null;
  return (
    <div class="legend">
      <label>
        <span class="unseen">coloured by</span>
        <select
          value={mode}
          title="coloured by"
          onChange={(e) => setMode(choiceOf(MODES, e.currentTarget.value) ?? mode)}
        >
          {MODES.map((one) => (
            <option key={one} value={one}>
              {modeWords(one)}
            </option>
          ))}
        </select>
      </label>
      {mode === 'mass' && <MassScale />}
      {mode !== 'mass' && mode !== 'plain' && <EffectScale name={mode} />}
    </div>
  );
}

const MassScale = () => (
  <p>
    <span>0</span>
    <Bar stops={shares.map((share) => massColour(share, 1))} />
    <span>{quantity(useBoat().scales.massTop, 'kg', 1)}</span>
  </p>
);

function EffectScale({ name }: { name: MeasureName }) {
  const top = useBoat().scales.tops[name];
  const wedge = (mm: number) => name === 'trim' && <Wedge mm={mm} top={top} />;
  const colour = (share: number) => measureColour(name, (share - 0.5) * 2 * top, top);
  return (
    <p>
      <span>
        {wedge(-top)} {measureWords(MEASURES[name], -top)}
      </span>
      <Bar stops={shares.map(colour)} hatched />
      <span>
        {measureWords(MEASURES[name], top)} {wedge(top)}
      </span>
    </p>
  );
}

/** The colours from end to end; the half that is hatched in the drawings is hatched here. */
const Bar = ({ stops, hatched = false }: { stops: readonly string[]; hatched?: boolean }) => {
  const colours = `linear-gradient(to right, ${stops.join(', ')})`;
  const background = hatched ? `var(--hatching) 0 0 / 50% 100% no-repeat, ${colours}` : colours;
  return <span class="legend-bar" style={{ background }} />;
};
