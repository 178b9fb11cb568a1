/** The scale of the colours, with words at its ends, and wedges where it is of trim. */
import { useBoat, useViewing } from '../../session/context.tsx';
import { massColour } from '../colour/colour.ts';
import { MEASURES, type MeasureName, measureWords } from '../colour/measures.ts';
import { measureColour } from '../colour/paint.ts';
import { Wedge } from '../feedback/wedge.tsx';
import { quantity } from '../words/numbers.ts';

const STEPS = 20;
const shares = Array.from({ length: STEPS + 1 }, (_, i) => i / STEPS);

export function Legend() {
  const { mode } = useViewing();
  const { scales, working } = useBoat();
  if (mode === 'plain' || working.assessment.changes.length === 0) return null;
  if (mode !== 'mass') return <EffectLegend name={mode} />;
  return (
    <p class="legend">
      <span>0</span>
      <Bar stops={shares.map((share) => massColour(share, 1))} />
      <span>{quantity(scales.massTop, 'kg', 1)}</span>
    </p>
  );
}

function EffectLegend({ name }: { name: MeasureName }) {
  const top = useBoat().scales.tops[name];
  const wedge = (mm: number) => name === 'trim' && <Wedge mm={mm} top={top} />;
  const colour = (share: number) => measureColour(name, (share - 0.5) * 2 * top, top);
  return (
    <p class="legend">
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
