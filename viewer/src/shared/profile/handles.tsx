/** Handles on the side view: the dimensions of new parts, dragged where they show. */
import { useMemo } from 'preact/hooks';
import type { Outline } from '../../contract.ts';
import { useBoat, useEditing, useKnown, useRoute } from '../../session/context.tsx';
import { bothBoats } from '../answer/figures.ts';
import { comparedIn } from '../answer/floats.ts';
import type { FlatPoint } from '../boat/points.ts';
import type { Scale } from '../boat/side-view.ts';
import { type Dimension, dimensionsOf, graspable } from '../grasp/dimension.ts';
import { Grip, Grips } from '../grasp/grip.tsx';
import { apart } from '../grasp/steps.ts';
import { trimWords } from '../words/numbers.ts';

const A_FINGER = '(pointer: coarse)';
const APART_PX = 26;
const APART_UNDER_A_FINGER_PX = 44;

/** A dimension with its handle's place in the drawing [px]. */
interface PlacedDimension {
  readonly dimension: Dimension;
  readonly spot: FlatPoint;
}

/** The dimensions that can be dragged in a drawing, no two on one another. */
export function usePartHandles(scale: Scale, isGrasped: boolean): readonly PlacedDimension[] {
  const { working } = useBoat();
  const { kinds } = useKnown();
  const { readOnly } = useEditing();
  const { picked } = useRoute().route;
  const dimensions = useMemo(
    () => dimensionsOf(working.profile.handles, kinds, picked),
    [working, kinds, picked?.change, picked?.part],
  );
  if (readOnly || scale.keelUp || !isGrasped) return [];
  const placed = dimensions.map((dimension) => ({ dimension, spot: spotOf(dimension, scale) }));
  return apart(placed, matchMedia(A_FINGER).matches ? APART_UNDER_A_FINGER_PX : APART_PX);
}

interface Props {
  readonly scale: Scale;
  /** Shows what stays where it was, while something is held. */
  readonly ghost: (outlines: readonly Outline[]) => void;
}

export const PartHandles = ({
  handles,
  ...drawing
}: Props & { handles: readonly PlacedDimension[] }) => (
  <Grips label="Dimensions to drag">
    {handles.map((one) => (
      <DimensionGrip
        key={`${one.dimension.handle.path}.${one.dimension.handle.index}`}
        {...one}
        {...drawing}
      />
    ))}
  </Grips>
);

const spotOf = ({ handle: { at_m } }: Dimension, scale: Scale): FlatPoint => [
  scale.x(at_m[0]),
  scale.z(at_m[2]),
];

type GripProps = Props & PlacedDimension;

function DimensionGrip({ dimension, spot, scale, ghost }: GripProps) {
  const { working, condition } = useBoat();
  const { route, go } = useRoute();
  const { handle, form } = dimension;
  const { after } = bothBoats(comparedIn(working.assessment), condition);
  const [x, , z] = handle.moves_m;
  const own = () => working.profile.outlines.filter((o) => o.role === 'part' && o.id === form.path);
  return (
    <Grip
      one={graspable(dimension, [x * scale.perMetre, -z * scale.perMetre])}
      spot={spot}
      size={[scale.width, scale.height]}
      look="across"
      isPicked={route.picked?.part === handle.part}
      pressed={() => go({ picked: { change: handle.change, part: handle.part } })}
      held={(from) => ghost(from ? own() : [])}
      answer={after ? `trim ${trimWords(after.trim_mm)}` : ''}
      form={form}
    />
  );
}
