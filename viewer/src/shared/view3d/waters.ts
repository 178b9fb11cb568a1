/** The waters laid on the boat, the weights inside her, and how she settles. */
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { BoatView, WeightInside } from '../../scene/view.ts';
import { type BoatAnswer, useBoat, useTheme } from '../../session/context.tsx';
import { isHeld } from '../../session/working-copy/gesture.ts';
import { bothBoats } from '../answer/figures.ts';
import { comparedIn } from '../answer/floats.ts';
import { levelAtRest } from '../boat/level.ts';
import { type Frame, upturned } from '../boat/side-view.ts';
import { trimColour } from '../colour/colour.ts';
import type { Ref } from './use-boat-view.ts';

/** Lays both waters on her, and stands her below the profile; a change swings into its place. */
export function useWaters(view: Ref<BoatView>, frame: Frame): void {
  const { working, condition } = useBoat();
  const isLaid = useRef(false);
  useLayoutEffect(() => view.current?.along(frame.x0, frame.x1), [frame.x0, frame.x1]);
  useLayoutEffect(() => {
    const { before, after } = bothBoats(comparedIn(working.assessment), condition);
    const now = after ?? before;
    const both = after && before && upturned(after) === upturned(before);
    if (!now) return;
    const waters = {
      now: levelAtRest(now),
      before: both ? levelAtRest(before) : undefined,
      isUpsideDown: upturned(now),
      length: working.profile.length_waterline_m,
    };
    view.current?.water(waters, isLaid.current && !isHeld());
    isLaid.current = true;
  }, [working, condition]);
}

/** What is drawn of the change since she was found: nothing, as it is, or ten times. */
export type Times = 0 | 1 | 10;

export function useSettling(view: Ref<BoatView>) {
  const { working, condition } = useBoat();
  const [times, setTimes] = useState<Times>(0);
  useEffect(() => setTimes(0), [working, condition]);
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  const settle = (to: 1 | 10) => {
    setTimes(to);
    view.current?.settle(to, () => setTimes((now) => (now === 1 ? 0 : now)));
  };
  const hold = () => {
    setTimes(0);
    view.current?.settled();
  };
  const may = after !== undefined && before !== undefined && upturned(after) === upturned(before);
  return { times, settle, hold, may };
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
export function weightsInside({
  working,
  effects,
  scales,
}: Pick<BoatAnswer, 'working' | 'effects' | 'scales'>): readonly WeightInside[] {
  return working.assessment.items.flatMap((item) => {
    if (item.role === 'part' || item.role === 'allowance') return [];
    const colour = trimColour(effects.get(item.path)?.trim_mm ?? 0, scales.trimTop);
    const one = { kg: item.mass_kg, colour };
    const from = { ...one, at: item.at_m, isGone: item.role !== 'added' };
    return item.to_m ? [from, { ...one, at: item.to_m, isGone: false }] : [from];
  });
}
