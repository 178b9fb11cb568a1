/** Who has the canvas: the page, which scrolls, or the hand, which turns the boat. */

interface HeldCamera {
  readonly hold: (isHeld: boolean) => void;
}

interface Closer {
  readonly closer: (clientX: number, clientY: number) => void;
}

/**
 * A wheel scrolls the page until the canvas is pressed or focused, a finger until the boat is
 * tapped; a press outside gives her back. A pinch always zooms. A double press looks closer.
 */
export function followHolding(
  canvas: HTMLCanvasElement,
  camera: HeldCamera,
  aiming: Closer,
  signal: AbortSignal,
): void {
  const byFinger = matchMedia('(pointer: coarse)').matches;
  let isHeld = !byFinger;
  const hold = (is: boolean) => {
    isHeld = is;
    camera.hold(is);
    canvas.classList.toggle('held', is && byFinger);
  };
  hold(isHeld);
  canvas.addEventListener('click', () => hold(true), { signal });
  canvas.addEventListener('dblclick', (e) => aiming.closer(e.clientX, e.clientY), { signal });
  addEventListener(
    'pointerdown',
    (e) => {
      if (byFinger && isHeld && e.target !== canvas) hold(false);
    },
    { signal },
  );
  const pinch = (e: TouchEvent) => {
    if (!isHeld && e.touches.length > 1) hold(true);
  };
  canvas.addEventListener('touchstart', pinch, { signal, passive: true });
  // before the orbit's own listener, which would take it
  const wheel = (e: WheelEvent) => {
    if (!(e.ctrlKey || document.activeElement === canvas)) e.stopImmediatePropagation();
  };
  canvas.addEventListener('wheel', wheel, { signal, capture: true });
}
