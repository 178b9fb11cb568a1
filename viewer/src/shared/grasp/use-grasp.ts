/** Whatever is grasped in a drawing: by a hand, by keys, or typed; one gesture is one undo. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { useBoat, useEditing, useSnapshot } from '../../session/context.tsx';
import { Gesture } from '../../session/working-copy/gesture.ts';
import { reasonsAt } from '../../session/working-copy/snapshot.ts';
import { at } from '../boat/document.ts';
import type { FlatPoint } from '../boat/points.ts';
import { type Graspable, valueWords } from './graspable.ts';
import { dragged, graspStep, stepped } from './steps.ts';

/** Called with the numbers where it was grasped, and with none when it is let go. */
export type WhileHeld = (from: readonly number[] | undefined) => void;

const STILL_PX = 3;
const DOUBLE_MS = 400;
const RUN_MS = 900;

/** The numbers as answered, as the hand has them, and setting them. */
function useValues(one: Graspable, isHeld: boolean) {
  const { document } = useBoat();
  const { session } = useEditing();
  const snapshot = useSnapshot();
  // what is refused is shown at the handle that tried it: another drawing may have one too
  const [tried, setTried] = useState(false);
  const standing = at(document, one.path);
  const draft = snapshot.drafts.get(one.path)?.value;
  const refused = reasonsAt(snapshot, one.path);
  const accepted = one.read(standing);
  const follows = draft !== undefined && (isHeld || refused.length === 0);
  const values = (follows ? one.read(draft) : undefined) ?? accepted;
  const put = (to: readonly number[], whole: unknown, gesture: string | null) => {
    const label = `${one.name} ${valueWords(one, to)}`;
    setTried(true);
    session.set(one.path, one.write(to, whole), label, gesture);
  };
  const forget = () => session.forget(one.path);
  const ownRefusals = tried ? refused : [];
  return { standing, accepted, values, refused, ownRefusals, put, forget };
}

interface Drag {
  readonly one: Graspable;
  readonly pointer: FlatPoint | undefined;
  readonly values: readonly number[];
  readonly whole: unknown;
  moved: boolean;
}

const same = (a: readonly number[], b: readonly number[]) => a.every((value, i) => value === b[i]);

/** Grasping one thing; a press that does not move it is `pressed`, two of them ask for a figure. */
export function useGrasp(
  offered: Graspable,
  pressed: () => void,
  held: WhileHeld = () => undefined,
) {
  const { readOnly } = useEditing();
  const gesture = useRef(new Gesture());
  const drag = useRef<Drag>(undefined);
  const [from, setFrom] = useState<readonly number[]>();
  const [typing, setTyping] = useState(false);
  const pressedAt = useRef(-Infinity);
  const one = drag.current?.one ?? offered; // what it is stays under a hand
  const given = useValues(one, drag.current?.pointer !== undefined);
  const { standing, values, put, refused } = given;
  const last = useRef(values);
  // a hand may come back from where it is refused; a key goes on from where it was taken
  const isOnItsWay = drag.current && (drag.current.pointer || refused.length === 0);
  if (!isOnItsWay) last.current = values;
  const hold = (to: readonly number[] | undefined) => {
    setFrom(to);
    held(to);
  };
  const set = (to: readonly number[], { whole }: Drag) => {
    if (last.current && same(to, last.current)) return;
    last.current = to;
    put(to, whole, gesture.current.now());
  };
  const begin = (pointer: FlatPoint | undefined): Drag => {
    const it = { one, pointer, values: values ?? [], whole: standing, moved: false };
    drag.current = it;
    return it;
  };
  const end = () => {
    if (drag.current?.pointer) gesture.current.lift();
    drag.current = undefined;
    hold(undefined);
  };
  const type = () => (one.isNew ? pressed() : setTyping(true));
  const press = () => {
    const isDouble = performance.now() - pressedAt.current < DOUBLE_MS;
    pressedAt.current = performance.now();
    if (isDouble && !readOnly) type();
    else pressed();
  };
  const actions = { drag, begin, end, hold, set, type };
  const pointerEvents = pointerHandlers({ ...actions, gesture: gesture.current, press });
  const keyEvents = useKeyHandlers({ ...actions, one, last, pressed });
  return {
    ...given,
    one,
    from,
    isHeld: drag.current?.pointer !== undefined,
    typing,
    stopTyping: () => setTyping(false),
    handlers: readOnly || !values ? {} : { ...pointerEvents, ...keyEvents },
  };
}

interface DragActions {
  readonly drag: { current: Drag | undefined };
  readonly begin: (pointer: FlatPoint | undefined) => Drag;
  readonly end: () => void;
  readonly hold: (from: readonly number[] | undefined) => void;
  readonly set: (to: readonly number[], drag: Drag) => void;
  /** Asks for a figure: what a press without a pointer does, such as a screen reader’s. */
  readonly type: () => void;
}

interface PressActions extends DragActions {
  readonly gesture: Gesture;
  readonly press: () => void;
}

type PointerOn = PointerEvent & { readonly currentTarget: Element };

/** What a pointer does. */
function pointerHandlers({ drag, gesture, begin, end, hold, set, press, type }: PressActions) {
  return {
    onPointerDown: (e: PointerOn) => {
      if (e.button !== 0 || !e.isPrimary) return;
      e.preventDefault();
      e.stopPropagation();
      if (e.currentTarget instanceof HTMLElement || e.currentTarget instanceof SVGElement)
        e.currentTarget.focus();
      e.currentTarget.setPointerCapture(e.pointerId);
      gesture.press('drawing');
      begin([e.clientX, e.clientY]);
    },
    onPointerMove: (e: PointerOn) => {
      const it = drag.current;
      if (!it?.pointer) return;
      const by: FlatPoint = [e.clientX - it.pointer[0], e.clientY - it.pointer[1]];
      if (!it.moved && Math.hypot(...by) < STILL_PX) return;
      if (!it.moved) hold(it.values);
      it.moved = true;
      set(dragged(it.one.axes, it.values, by, graspStep(e.shiftKey)), it);
    },
    onPointerUp: () => {
      const it = drag.current;
      if (!it?.pointer) return;
      end();
      if (!it.moved) press();
    },
    onPointerCancel: end,
    onLostPointerCapture: () => drag.current?.pointer && end(),
    onClick: (e: MouseEvent) => e.detail === 0 && type(),
  };
}

interface KeyActions extends DragActions {
  readonly one: Graspable;
  readonly last: { readonly current: readonly number[] | undefined };
  readonly pressed: () => void;
}

/** What the keyboard does: a run of keys is one gesture, as long as it does not pause. */
function useKeyHandlers({ one, drag, last, begin, end, hold, set, pressed, type }: KeyActions) {
  const pause = useRef<ReturnType<typeof setTimeout>>(undefined);
  useEffect(() => () => clearTimeout(pause.current), []);
  const goBack = (it: Drag) => {
    set(it.values, it);
    end();
  };
  const step = (e: KeyboardEvent) => {
    const to = last.current && stepped(one.axes, last.current, e);
    if (!to) return false;
    const it = drag.current ?? begin(undefined);
    if (!it.moved) hold(it.values);
    it.moved = true;
    set(to, it);
    clearTimeout(pause.current);
    if (!it.pointer) pause.current = setTimeout(end, RUN_MS);
    return true;
  };
  const others: Readonly<Record<string, () => unknown>> = {
    Enter: type,
    ' ': pressed,
    ...(drag.current ? { Escape: () => drag.current && goBack(drag.current) } : {}),
    ...(one.remove ? { Delete: one.remove } : {}),
  };
  return {
    onKeyDown: (e: KeyboardEvent) => {
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      const other = others[e.key];
      if (!other && !step(e)) return;
      e.preventDefault();
      e.stopPropagation();
      other?.();
    },
    onBlur: () => drag.current && !drag.current.pointer && end(),
  };
}
