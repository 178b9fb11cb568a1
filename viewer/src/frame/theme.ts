/** Light or dark: the reader's choice, or that of the system. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Theme } from '../session/context.tsx';

type Name = 'light' | 'dark';
const KEPT = 'hullchange.paper';
const SYSTEM = '(prefers-color-scheme: dark)';

function chosen(): Name | undefined {
  const stored = localStorage.getItem(KEPT);
  return stored === 'light' || stored === 'dark' ? stored : undefined;
}

const inUse = (): Name => chosen() ?? (matchMedia(SYSTEM).matches ? 'dark' : 'light');

/** The theme in use, and how to take the other one. */
export function useThemeChoice(): Theme {
  const [name, setName] = useState(inUse);
  useEffect(() => {
    const query = matchMedia(SYSTEM);
    const follow = () => setName(inUse());
    query.addEventListener('change', follow);
    return () => query.removeEventListener('change', follow);
  }, []);
  document.documentElement.dataset.paper = name;
  return useMemo(() => {
    const toggleTheme = () => {
      const other: Name = name === 'dark' ? 'light' : 'dark';
      localStorage.setItem(KEPT, other);
      setName(other);
    };
    return { dark: name === 'dark', toggleTheme };
  }, [name]);
}
