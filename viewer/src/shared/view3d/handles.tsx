/** Handles in the drawing in three dimensions: dimensions and weights, dragged along their axis. */
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { BoatView } from '../../scene/view.ts';
import { useBoat, useEditing, useKnown, useRoute } from '../../session/context.tsx';
import type { Route } from '../../session/route.ts';
import { bothBoats } from '../answer/figures.ts';
import { comparedIn } from '../answer/floats.ts';
import type { FlatPoint, Point } from '../boat/points.ts';
import { type Dimension, dimensionsOf, graspable } from '../grasp/dimension.ts';
import type { Graspable } from '../grasp/graspable.ts';
import { Grip, Grips } from '../grasp/grip.tsx';
import { apart } from '../grasp/steps.ts';
import { graspableWeight, placeOf } from '../grasp/weight.ts';
import { trimWords } from '../words/numbers.ts';
import type { Ref } from './use-boat-view.ts';

const APART_PX = 34;
const APART_UNDER_A_FINGER_PX = 48;
/** How long she rests before hidden handles are looked for [ms]. */
const REST_MS = 120;
/** An axis so short on the page is seen end on: a hand could not follow it. */
const END_ON_PX = 8;

interface Props {
  readonly view: Ref<BoatView>;
  /** Called with every picture that is drawn. */
  readonly drawn: Ref<() => void>;
  /** Whether a press is meant for something else. */
  readonly isHidden: boolean;
  /** Whether the weights inside her are seen. */
  readonly isThrough: boolean;
}

/** What is grasped, where it lies on the boat, and how it moves there for a metre more. */
interface Placed {
  readonly key: string;
  readonly at: Point;
  readonly moves: Point;
  readonly one: (way: FlatPoint) => Graspable | undefined;
  readonly look: 'across' | 'crate';
  readonly picks: NonNullable<Route['picked']>;
  readonly form?: Dimension['form'];
}

export function BoatHandles({ view, drawn, isHidden, isThrough }: Props) {
  const { readOnly } = useEditing();
  const [, countFrame] = useState(0);
  const layer = useRef<HTMLDivElement>(null);
  const placed = usePlaced();
  const inSight = useInSight(view, placed, isThrough);
  useLayoutEffect(() => {
    drawn.current = () => {
      countFrame((n) => n + 1);
      inSight.look();
    };
    return () => {
      drawn.current = null;
    };
  });
  if (readOnly || isHidden) return null;
  const { clientWidth: wide = 0, clientHeight: high = 0 } = layer.current ?? {};
  const size: FlatPoint = [wide, high];
  const least = matchMedia('(pointer: coarse)').matches ? APART_UNDER_A_FINGER_PX : APART_PX;
  const all = seen(placed, view.current, size);
  const isSeen = ({ placed: { key } }: Seen) => inSight.keys.has(key);
  const behind = all.filter((one) => !isSeen(one));
  return (
    <div class="handles-3d" ref={layer} onWheel={(e) => passOn(e, view.current?.canvas)}>
      <Grips label="What can be dragged on the boat">
        {[...apart(all.filter(isSeen), least), ...behind].map((one) => (
          <SeenGrip key={one.placed.key} seen={one} size={size} isBehind={!isSeen(one)} />
        ))}
      </Grips>
    </div>
  );
}

/** The wheel works over a handle as it does beside it. */
function passOn(e: WheelEvent, canvas: HTMLCanvasElement | undefined): void {
  if (canvas && !canvas.dispatchEvent(new WheelEvent(e.type, e))) e.preventDefault();
}

/** Keys of the handles that nothing hides; weights lie inside her. Looked for once she rests. */
function useInSight(view: Ref<BoatView>, placed: readonly Placed[], isThrough: boolean) {
  const [keys, setKeys] = useState<ReadonlySet<string>>(new Set());
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const latest = useRef({ placed, isThrough });
  latest.current = { placed, isThrough };
  const look = () => {
    clearTimeout(timer.current);
    timer.current = setTimeout(() => {
      const { placed: all, isThrough: through } = latest.current;
      const shown = all.filter(
        ({ at, look: as }) => (through || as !== 'crate') && view.current?.hides(at) === false,
      );
      setKeys(new Set(shown.map(({ key }) => key)));
    }, REST_MS);
  };
  useEffect(look, [placed, isThrough]);
  useEffect(() => () => clearTimeout(timer.current), []);
  return { keys, look };
}

interface Seen {
  readonly placed: Placed;
  readonly spot: FlatPoint;
  readonly way: FlatPoint;
}

/** Those on the canvas whose axis is not seen end on. */
function seen(all: readonly Placed[], view: BoatView | null, [wide, high]: FlatPoint) {
  return all.flatMap((placed): readonly Seen[] => {
    if (!view) return [];
    const { at, moves } = placed;
    const spot = view.spot(at);
    const end = view.spot([at[0] + moves[0], at[1] + moves[1], at[2] + moves[2]]);
    const way: FlatPoint = [end[0] - spot[0], end[1] - spot[1]];
    const isIn = spot[0] >= 0 && spot[0] <= wide && spot[1] >= 0 && spot[1] <= high;
    return isIn && Math.hypot(...way) > END_ON_PX ? [{ placed, spot, way }] : [];
  });
}

interface SeenGripProps {
  readonly seen: Seen;
  readonly size: FlatPoint;
  readonly isBehind: boolean;
}

function SeenGrip({ seen: { placed, spot, way }, size, isBehind }: SeenGripProps) {
  const { working, condition } = useBoat();
  const { route, go } = useRoute();
  const { after } = bothBoats(comparedIn(working.assessment), condition);
  const one = placed.one(way);
  if (!one) return null;
  return (
    <Grip
      one={one}
      spot={spot}
      size={size}
      look={placed.look}
      isPicked={route.picked?.change === placed.picks.change}
      isBehind={isBehind}
      pressed={() => go({ picked: placed.picks })}
      answer={after ? `trim ${trimWords(after.trim_mm)}` : ''}
      form={placed.form}
    />
  );
}

/** What is picked, its weights first; of the whole refit one handle a part, and every weight. */
function usePlaced(): readonly Placed[] {
  const { working, document } = useBoat();
  const { kinds } = useKnown();
  const { picked } = useRoute().route;
  return useMemo(() => {
    const belongs = (change: string) => picked === undefined || change === picked.change;
    const weights = working.assessment.items
      .filter((item) => item.may_lie_x_m && belongs(item.change))
      .map(
        (item): Placed => ({
          key: item.path,
          at: placeOf(item),
          moves: [1, 0, 0],
          one: (way) => graspableWeight(item, document, way),
          look: 'crate',
          picks: { change: item.change, part: undefined },
        }),
      );
    const all = dimensionsOf(working.profile.handles, kinds, picked);
    const isFirst = ({ handle }: Dimension, i: number) =>
      all.findIndex((other) => other.handle.part === handle.part) === i;
    const shown = all.filter((one, i) =>
      picked ? one.handle.change === picked.change : isFirst(one, i),
    );
    const dimensions = shown.map(
      (dimension): Placed => ({
        key: `${dimension.handle.path}.${dimension.handle.index}`,
        at: dimension.handle.at_m,
        moves: dimension.handle.moves_m,
        one: (way) => graspable(dimension, way),
        look: 'across',
        picks: { change: dimension.handle.change, part: dimension.handle.part },
        form: dimension.form,
      }),
    );
    return [...weights, ...dimensions];
  }, [working, document, kinds, picked?.change, picked?.part]);
}
