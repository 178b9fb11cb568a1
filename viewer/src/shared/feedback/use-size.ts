/** The width and the height of an element on the page, followed as they change. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';

export function useSize<E extends HTMLElement>(first: number) {
  const element = useRef<E>(null);
  const [[width, height], setSize] = useState<readonly [number, number]>([first, 0]);
  useLayoutEffect(() => {
    const one = element.current;
    if (!one) return undefined;
    const measure = () => {
      const now = [Math.max(1, Math.round(one.clientWidth)), one.clientHeight] as const;
      setSize((was) => (was[0] === now[0] && was[1] === now[1] ? was : now));
    };
    measure();
    const watcher = new ResizeObserver(measure);
    watcher.observe(one);
    return () => watcher.disconnect();
  }, []);
  return [element, width, height] as const;
}
