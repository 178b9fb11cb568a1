/** What the pointer does on the canvas besides turning the boat: picking and pointing. */

/** Who is told of the piece under the pointer, undefined where there is none. */
export interface Ends {
  readonly picked: (id: string | undefined) => void;
  readonly hovered: (id: string | undefined) => void;
  /** Told of every press that does not move, on whatever lies there. */
  readonly pressed: (clientX: number, clientY: number) => void;
}

const STILL_PX = 5;

/** A press that does not move picks; moving without a button points. */
export function followPointer(
  canvas: HTMLCanvasElement,
  at: (clientX: number, clientY: number) => string | undefined,
  { picked, hovered, pressed }: Ends,
  signal: AbortSignal,
): void {
  let down: readonly [number, number] = [0, 0];
  const on = (kind: 'pointerdown' | 'pointerup' | 'pointermove', act: (e: PointerEvent) => void) =>
    canvas.addEventListener(kind, act, { signal });
  on('pointerdown', (e) => {
    down = [e.clientX, e.clientY];
  });
  on('pointerup', (e) => {
    const moved = Math.hypot(e.clientX - down[0], e.clientY - down[1]);
    if (e.button !== 0 || moved >= STILL_PX) return;
    picked(at(e.clientX, e.clientY));
    pressed(e.clientX, e.clientY);
  });
  on('pointermove', (e) => {
    if (e.buttons === 0) hovered(at(e.clientX, e.clientY));
  });
  canvas.addEventListener('pointerleave', () => hovered(undefined), { signal });
}
