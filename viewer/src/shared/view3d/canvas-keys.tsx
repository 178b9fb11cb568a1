/** The canvas, which the keyboard turns, moves and fits as the hand does. */
import type { BoatView } from '../../scene/view.ts';
import { useBoat, useRoute } from '../../session/context.tsx';
import type { Ref } from './use-boat-view.ts';

const KEYS =
  'Arrow keys turn her, with Shift they move her; plus and minus zoom in and out; F or Home shows all of her; comma and full stop step through her parts.';
const HAND = 'Drag to turn, with Shift to move; press twice to look closer.';
const TURN_DEG = 10;
const PAN_PX = 40;

type Move = (view: BoatView) => void;
const turning =
  (sidewaysDeg: number, upDeg: number): Move =>
  (view) =>
    view.camera.turn(sidewaysDeg, upDeg);
const panning =
  (right: number, up: number): Move =>
  (view) =>
    view.camera.pan(right, up);
const nearing =
  (times: number): Move =>
  (view) =>
    view.camera.nearer(times);
const fitting: Move = (view) => view.camera.fitAll();

/** What keys do to the view, and which of them pick a part before or after. */
const MOVES: Readonly<Record<string, Move>> = {
  ArrowLeft: turning(-TURN_DEG, 0),
  ArrowRight: turning(TURN_DEG, 0),
  ArrowUp: turning(0, TURN_DEG),
  ArrowDown: turning(0, -TURN_DEG),
  'Shift ArrowLeft': panning(PAN_PX, 0),
  'Shift ArrowRight': panning(-PAN_PX, 0),
  'Shift ArrowUp': panning(0, -PAN_PX),
  'Shift ArrowDown': panning(0, PAN_PX),
  '+': nearing(1.2),
  '=': nearing(1.2),
  '-': nearing(1 / 1.2),
  f: fitting,
  F: fitting,
  Home: fitting,
};
/** With Shift an arrow is another key; other keys carry it in themselves. */
const keyOf = ({ key, shiftKey }: KeyboardEvent) =>
  shiftKey && key.startsWith('Arrow') ? `Shift ${key}` : key;
const STEPS: Readonly<Record<string, number>> = { '.': 1, ',': -1 };

interface KeysProps {
  readonly canvas: Ref<HTMLCanvasElement>;
  readonly view: Ref<BoatView>;
}

export function CanvasKeys({ canvas, view }: KeysProps) {
  const { working } = useBoat();
  const { route, go } = useRoute();
  const step = (by: number) => {
    const { parts } = working.assessment;
    const here = parts.findIndex((p) => p.id === route.picked?.part);
    const next = parts[(here + by + parts.length) % parts.length];
    if (next) go({ picked: { change: next.change, part: next.id } });
  };
  const onKeyDown = (e: KeyboardEvent) => {
    const by = STEPS[e.key];
    const act = by === undefined ? MOVES[keyOf(e)] : () => step(by);
    if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    if (view.current) act(view.current);
  };
  return (
    <canvas
      ref={canvas}
      tabIndex={0}
      role="application"
      aria-label={`Boat in three dimensions. ${KEYS}`}
      title={`${HAND} ${KEYS}`}
      onKeyDown={onKeyDown}
    />
  );
}
