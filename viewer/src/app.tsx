/** Waits for what the server knows, then shows the boat that is asked for. */
import { useCallback, useEffect, useState } from 'preact/hooks';
import * as api from './api.ts';
import type { Known } from './app-context.ts';
import { Boat } from './boat.tsx';
import { Waiting } from './components/waiting.tsx';
import { EmptyPage } from './pages/empty.tsx';
import type { Kept } from './kept.ts';
import { hashOf, routeOf, type Route } from './route.ts';

export function App({ kept }: { kept: Kept | undefined }) {
  const [known, setKnown] = useState<Known>();
  const [trouble, setTrouble] = useState('');
  const [asked, go] = useRoute();
  const route = kept ? within(kept, asked) : asked;
  useEffect(() => {
    Promise.all([api.refits(), api.kinds(), api.cautions()])
      .then(([refits, kinds, cautions]) => 
        setKnown({ refits, kinds, cautions, readOnly: kept !== undefined }),
      )
      .catch((error: unknown) =>
        setTrouble(error instanceof Error ? error.message : 'No answer.'),
      );
  }, []);
  if (trouble) return <Waiting words={trouble} />;
  if (!known) return <Waiting words="Loading the boat…" />;
  const boat = known.refits.find((card) => card.id === route.boat) ?? known.refits[0];
  if (!boat) return <EmptyPage problem={undefined} />;
  return <Boat key={boat.id} refit={boat.id} known={known} route={route} go={go} />;
}

/** A file holds one plan, and nothing to begin with. */
const within = ({ working }: Kept, route: Route): Route => ({
  ...route,
  option: working.option,
  page: route.page === 'start' ? 'float' : route.page,
});

function useRoute(): readonly [Route, (to: Partial<Route>) => void] {
  const [route, setRoute] = useState(() => routeOf(location.hash));
  useEffect(() => {
    const follow = () => setRoute(routeOf(location.hash));
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, []);
  const go = useCallback((to: Partial<Route>) => {
    const next = { ...routeOf(location.hash), ...to };
    history.replaceState(null, '', hashOf(next));
    setRoute(next);
  }, []);
  return [route, go];
}
