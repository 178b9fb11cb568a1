/** Weights on the beam that may lie elsewhere: each is dragged along it, within its range. */
import type { ItemResult } from '../contract.ts';
import { useBoat, useEditing, useRoute } from '../session/context.tsx';
import { bothBoats } from '../shared/answer/figures.ts';
import { comparedIn } from '../shared/answer/floats.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import type { Scale } from '../shared/boat/side-view.ts';
import { reveal } from '../shared/explain/reveal.ts';
import type { Graspable } from '../shared/grasp/graspable.ts';
import { Grip, Grips } from '../shared/grasp/grip.tsx';
import { graspableWeight } from '../shared/grasp/weight.ts';
import { trimWords } from '../shared/words/numbers.ts';
import { plainWords, title } from '../shared/words/plain-words.ts';
import type { PlacedWeight } from './beam-weights.ts';

/** A weight on the beam with what is grasped. */
export interface MovableWeight {
  readonly weight: PlacedWeight;
  readonly one: Graspable;
}

/** Those of the placed weights that may lie elsewhere. */
export function useMovable(
  items: readonly ItemResult[],
  placed: readonly PlacedWeight[],
  way: FlatPoint,
): readonly MovableWeight[] {
  const { document } = useBoat();
  return placed.flatMap((weight) => {
    if (!weight.stands) return [];
    const item = items.find(({ path }) => path === weight.path);
    const one = graspableWeight(item, document, way);
    return one ? [{ weight, one }] : [];
  });
}

interface RangesProps {
  readonly movable: readonly MovableWeight[];
  readonly scale: Scale;
  /** The one that is held, and where it was. */
  readonly ghost: Ghost | undefined;
}

/** What is held: its key, and where along the boat it was [m]. */
export interface Ghost {
  readonly key: string;
  readonly x_m: number;
}

/** How far each may lie, drawn on the beam; where the held one was. */
export function Ranges({ movable, scale, ghost }: RangesProps) {
  const { route } = useRoute();
  return (
    <>
      {movable.map(({ weight, one }) => {
        const [axis] = one.axes;
        if (!axis) return null;
        const [low, high] = [scale.x(axis.low), scale.x(axis.high)];
        const isHeld = ghost?.key === weight.key;
        const state = `${isHeld ? 'held' : ''} ${route.picked?.change === weight.change ? 'picked' : ''}`;
        return (
          <g key={weight.key} class={`may-lie ${state}`}>
            <path d={`M${low},0H${high}M${low},-5V5M${high},-5V5`} />
            {isHeld && (
              <rect
                x={scale.x(ghost.x_m) - weight.size / 2}
                y={-weight.size}
                width={weight.size}
                height={weight.size}
              />
            )}
          </g>
        );
      })}
    </>
  );
}

interface GripsProps {
  readonly movable: readonly MovableWeight[];
  /** Where a point of the beam is drawn, the beam tipped as it is. */
  readonly spotOf: (x: number, y: number) => FlatPoint;
  readonly size: FlatPoint;
  readonly ghost: (ghost: Ghost | undefined) => void;
}

export function WeightGrips({ movable, spotOf, size, ghost }: GripsProps) {
  const { working, condition } = useBoat();
  const { route, go } = useRoute();
  const { readOnly } = useEditing();
  const { after } = bothBoats(comparedIn(working.assessment), condition);
  if (readOnly) return null;
  return (
    <Grips label="Weights to drag along the boat">
      {movable.map(({ weight, one }) => (
        <Grip
          key={weight.key}
          one={one}
          spot={spotOf(weight.x, -(weight.near + weight.far) / 2)}
          size={size}
          look="bare"
          isFollowed
          isPicked={route.picked?.change === weight.change}
          pressed={() => go({ picked: { change: weight.change, part: undefined } })}
          held={(from) => ghost(from ? { key: weight.key, x_m: from[0] ?? 0 } : undefined)}
          answer={after ? `trim ${trimWords(after.trim_mm)}` : ''}
          wordsAt={0}
        />
      ))}
    </Grips>
  );
}

/** Said where somebody drags a weight that has no range: how it gets one. */
export function NoRange({ weight, done }: { weight: PlacedWeight; done: () => void }) {
  const { go } = useRoute();
  const isPart = weight.path.includes('.parts.');
  const give = () => {
    go({ page: 'boat', section: 'changes' });
    reveal(`${weight.path}.may_lie_m`);
  };
  return (
    <p class="no-range" role="status">
      {isPart
        ? `${title(weight.label)} is new steel: it lies where its dimensions put it.`
        : `${title(weight.label)} has no range to be dragged in. Say how far it may be shifted.`}{' '}
      {!isPart && (
        <button type="button" class="quiet" onClick={give}>
          Give {plainWords(weight.label)} a range
        </button>
      )}{' '}
      <button type="button" class="quiet" onClick={done}>
        OK
      </button>
    </p>
  );
}
