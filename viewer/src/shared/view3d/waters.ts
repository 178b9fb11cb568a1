/** The waters laid on the boat, the weights inside her, and how she settles. */
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { BoatView, WeightInside } from '../../scene/view.ts';
import { type BoatAnswer, useBoat, useTheme } from '../../session/context.tsx';
import { isHeld } from '../../session/working-copy/gesture.ts';
import { bothBoats } from '../answer/figures.ts';
import { comparedIn } from '../answer/floats.ts';
import { levelAtRest } from '../boat/level.ts';
import { type Frame, upturned } from '../boat/side-view.ts';
import { trimColour } from '../colour/colour.ts';
import { isHatched } from '../colour/paint.ts';
import type { Ref } from './use-boat-view.ts';

/** How she floats in the condition that is looked at, and how she did; none without an answer. */
function watersOf({ working, condition }: Pick<BoatAnswer, 'working' | 'condition'>) {
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  const now = after ?? before;
  const both = after && before && upturned(after) === upturned(before);
  return (
    now && {
      now: levelAtRest(now),
      before: both ? levelAtRest(before) : undefined,
      isUpsideDown: upturned(now),
      length: working.profile.length_waterline_m,
    }
  );
}

/** The same while she floats the same: an answer with more in it moves nothing. */
function useFloating() {
  const { working, condition } = useBoat();
  const waters = useMemo(() => watersOf({ working, condition }), [working, condition]);
  const key = JSON.stringify(waters);
  return useMemo(() => waters, [key]);
}

/** Lays both waters on her, and stands her below the profile; a change swings into its place. */
export function useWaters(view: Ref<BoatView>, frame: Frame): void {
  const waters = useFloating();
  const isLaid = useRef(false);
  useLayoutEffect(() => view.current?.along(frame.x0, frame.x1), [frame.x0, frame.x1]);
  useLayoutEffect(() => {
    if (!waters) return;
    view.current?.water(waters, isLaid.current && !isHeld());
    isLaid.current = true;
  }, [waters]);
}

/** What is drawn of the change since she was found: nothing, as it is, or ten times. */
export type Times = 0 | 1 | 10;

export function useSettling(view: Ref<BoatView>) {
  const waters = useFloating();
  const [times, setTimes] = useState<Times>(0);
  useEffect(() => setTimes(0), [waters]);
  const settle = (to: 1 | 10) => {
    setTimes(to);
    view.current?.settle(to, () => setTimes((now) => (now === 1 ? 0 : now)));
  };
  const hold = () => {
    setTimes(0);
    view.current?.settled();
  };
  return { times, settle, hold, may: waters?.before !== undefined };
}

/** Sees through her, to the weights inside. */
export function useXray(view: Ref<BoatView>) {
  const { working, effects, scales } = useBoat();
  const { dark } = useTheme();
  const [xray, setXray] = useState(false);
  useEffect(() => view.current?.through(xray), [xray]);
  useEffect(() => {
    if (xray) view.current?.weights(weightsInside({ working, effects, scales }));
  }, [xray, working, effects, scales, dark]);
  return [xray, () => setXray(!xray)] as const;
}

/** Weights that are not steel, where they go and where they come off. */
function weightsInside({
  working,
  effects,
  scales,
}: Pick<BoatAnswer, 'working' | 'effects' | 'scales'>): readonly WeightInside[] {
  return working.assessment.items.flatMap((item) => {
    if (item.role === 'part' || item.role === 'allowance') return [];
    const trim = effects.get(item.path)?.trim_mm ?? 0;
    const colour = trimColour(trim, scales.trimTop);
    const one = { kg: item.mass_kg, colour, isHatched: isHatched('trim', trim) };
    const from = { ...one, at: item.at_m, isGone: item.role !== 'added' };
    return item.to_m ? [from, { ...one, at: item.to_m, isGone: false }] : [from];
  });
}
