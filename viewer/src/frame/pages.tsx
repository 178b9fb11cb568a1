/** The pages, each loaded when it is first opened. */
import { useEffect, useState } from 'preact/hooks';
import { PrintPage } from '../print/page.tsx';
import { whyNot } from '../session/review-store.ts';
import { type Page, routeOf } from '../session/route.ts';
import { WaitingHere } from '../shared/feedback/waiting.tsx';

type PageComponent = () => preact.JSX.Element;

const LOADERS: Readonly<Record<Page, () => Promise<PageComponent>>> = {
  start: () => import('../start/page.tsx').then((page) => page.StartPage),
  float: () => import('../float/page.tsx').then((page) => page.FloatPage),
  stability: () => import('../stability/page.tsx').then((page) => page.StabilityPage),
  ledger: () => import('../ledger/page.tsx').then((page) => page.LedgerPage),
  boat: () => import('../boat/page.tsx').then((page) => page.BoatPage),
  photograph: () => import('../photograph/page.tsx').then((page) => page.PhotographPage),
  cutting: () => import('../cutting/page.tsx').then((page) => page.CuttingPage),
  review: () => import('../review/page.tsx').then((page) => page.ReviewPage),
  guide: () => import('../guide/page.tsx').then((page) => page.GuidePage),
  print: () => Promise.resolve(PrintPage), // every page has it for the printer
};

const loaded = new Map<Page, PageComponent>();
const loading = new Map<Page, Promise<PageComponent>>();

function load(page: Page): Promise<PageComponent> {
  const known = loading.get(page) ?? LOADERS[page]();
  loading.set(page, known);
  known.then(
    (about) => loaded.set(page, about),
    () => loading.delete(page), // it may be asked for again
  );
  return known;
}

// the one that is asked for, while the server is asked for the boat
void load(routeOf(location.hash).page).catch(() => undefined);

export function PageOf({ page }: { page: Page }) {
  const [, count] = useState(0);
  const [trouble, setTrouble] = useState('');
  const Loaded = loaded.get(page);
  useEffect(() => {
    if (Loaded) return undefined; // not loaded.has: it may have come between the drawing and here
    let isWanted = true;
    setTrouble('');
    load(page).then(
      () => isWanted && count((n) => n + 1),
      (error: unknown) => isWanted && setTrouble(`This page was not loaded. ${whyNot(error)}`),
    );
    return () => {
      isWanted = false;
    };
  }, [page, Loaded]);
  return Loaded ? <Loaded /> : <WaitingHere words={trouble || 'Opening…'} />;
}
