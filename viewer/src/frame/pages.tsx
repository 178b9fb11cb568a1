/** The pages, each loaded when it is first opened. */
import { PrintPage } from '../print/page.tsx';
import { type Page, routeOf } from '../session/route.ts';
import { type Loader, loader, useLoaded } from '../shared/feedback/loaded.ts';
import { WaitingHere } from '../shared/feedback/waiting.tsx';

type PageComponent = () => preact.JSX.Element;

const LOADERS: Readonly<Record<Page, Loader<PageComponent>>> = {
  start: loader(() => import('../start/page.tsx').then((page) => page.StartPage)),
  float: loader(() => import('../float/page.tsx').then((page) => page.FloatPage)),
  stability: loader(() => import('../stability/page.tsx').then((page) => page.StabilityPage)),
  ledger: loader(() => import('../ledger/page.tsx').then((page) => page.LedgerPage)),
  boat: loader(() => import('../boat/page.tsx').then((page) => page.BoatPage)),
  photograph: loader(() => import('../photograph/page.tsx').then((page) => page.PhotographPage)),
  cutting: loader(() => import('../cutting/page.tsx').then((page) => page.CuttingPage)),
  review: loader(() => import('../review/page.tsx').then((page) => page.ReviewPage)),
  guide: loader(() => import('../guide/page.tsx').then((page) => page.GuidePage)),
  print: loader(() => Promise.resolve(PrintPage)), // every page has it for the printer
};

// the one that is asked for, while the server is asked for the boat
void LOADERS[routeOf(location.hash).page].load().catch(() => undefined);

export function PageOf({ page }: { page: Page }) {
  const [Loaded, trouble] = useLoaded(LOADERS[page]);
  if (Loaded) return <Loaded />;
  return <WaitingHere words={trouble ? `This page could not be loaded. ${trouble}` : 'Opening…'} />;
}
