/** The width of an element on the page, followed as it changes. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';

export function useWidth<E extends HTMLElement>(first: number) {
  const element = useRef<E>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const one = element.current;
    if (!one) return undefined;
    const measure = () => setWidth(Math.max(1, Math.round(one.clientWidth)));
    measure();
    const watcher = new ResizeObserver(measure);
    watcher.observe(one);
    return () => watcher.disconnect();
  }, []);
  return [element, width] as const;
}
