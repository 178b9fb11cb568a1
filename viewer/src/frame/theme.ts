/** Light or dark paper: the reader's choice, or that of the system. */
import { useEffect, useState } from 'preact/hooks';

export type Theme = 'light' | 'dark';
const KEPT = 'hullchange.paper';
const SYSTEM = '(prefers-color-scheme: dark)';

function chosen(): Theme | undefined {
  const kept = localStorage.getItem(KEPT);
  return kept === 'light' || kept === 'dark' ? kept : undefined;
}

const inUse = (): Theme => chosen() ?? (matchMedia(SYSTEM).matches ? 'dark' : 'light');

/** The paper in use, and how to take the other one. */
export function useTheme(): readonly [Theme, () => void] {
  const [paper, setPaper] = useState(inUse);
  useEffect(() => {
    const query = matchMedia(SYSTEM);
    const follow = () => setPaper(inUse());
    query.addEventListener('change', follow);
    return () => query.removeEventListener('change', follow);
  }, []);
  const turn = () => {
    const other: Theme = paper === 'dark' ? 'light' : 'dark';
    localStorage.setItem(KEPT, other);
    setPaper(other);
  };
  document.documentElement.dataset.paper = paper;
  return [paper, turn];
}
