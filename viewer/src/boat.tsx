/** One boat: her working copy, how she is looked at, and the page about her. */
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import * as api from './api.ts';
import {
  AppContext,
  SnapshotContext,
  useApp,
  useSnapshot,
  type Known,
  type Shown,
} from './app-context.ts';
import { Cautions } from './components/cautions.tsx';
import { Header, Register } from './components/header.tsx';
import { PrintOnly } from './components/print-only.tsx';
import { Spoken } from './components/spoken.tsx';
import { Strip } from './components/strip.tsx';
import { onPage } from './components/use-boat-view.ts';
import { Waiting } from './components/waiting.tsx';
import { underOption, type Mapping } from './document.ts';
import { inPlace } from './marks.ts';
import { Meshes } from './meshes.ts';
import { EmptyPage } from './pages/empty.tsx';
import { FloatPage } from './pages/float.tsx';
import { HullPage } from './pages/hull.tsx';
import { LedgerPage } from './pages/ledger.tsx';
import { PrintPage } from './pages/print.tsx';
import { StabilityPage } from './pages/stability.tsx';
import { StartPage } from './pages/start.tsx';
import { scalesOf, type Mode } from './paint.ts';
import { usePaper } from './paper.ts';
import type { Page, Route } from './route.ts';
import { Session, type Snapshot } from './session.ts';

interface Props {
  readonly refit: string;
  readonly known: Known;
  readonly route: Route;
  readonly go: (to: Partial<Route>) => void;
}

export function Boat({ refit, known, route, go }: Props) {
  const [session, snapshot] = useSession(refit, route);
  const shown = useShown(known, session, snapshot, route, go);
  const { working, problem } = snapshot;
  useLayoutEffect(() => {
    if (!working) return;
    inPlace('numbers', working.edit, snapshot.since);
    if (!onPage.view) inPlace('meshes', working.edit, snapshot.since);
  }, [working]);
  useEffect(() => {
    const first = working?.assessment.parts[0];
    if (first && !route.picked) go({ picked: { change: first.change, part: first.id } });
  }, [working === undefined]);
  const page = useMemo(() => <Whole />, []);
  if (problem) return <EmptyPage problem={problem.problem} />;
  if (!shown) return <Waiting words={snapshot.notice || 'Loading the boat…'} />;
  return (
    <SnapshotContext.Provider value={snapshot}>
      <AppContext.Provider value={shown}>{page}</AppContext.Provider>
    </SnapshotContext.Provider>
  );
}

function useSession(refit: string, route: Route): readonly [Session, Snapshot] {
  const { condition, option } = route;
  const session = useMemo(() => new Session(refit, { condition, option }), [refit]);
  const [snapshot, setSnapshot] = useState<Snapshot>(session.present);
  useEffect(() => {
    const leave = session.watch((next) => {
      if (next.working) meshes.expect(next.working.scene);
      setSnapshot(next);
    });
    const refresh = () => session.refresh();
    addEventListener('focus', refresh);
    session.refresh();
    return () => {
      leave();
      removeEventListener('focus', refresh);
    };
  }, [session]);
  useEffect(() => session.look({ condition, option }), [condition, option]);
  return [session, snapshot];
}

/** The same object until something is answered, or looked at in another way. */
function useShown(
  known: Known,
  session: Session,
  { working, effects, since }: Snapshot,
  route: Route,
  go: Props['go'],
): Shown | undefined {
  const [mode, setMode] = useState<Mode>('trim');
  const [paper, turnPaper] = usePaper();
  const original = useRef<Mapping>(undefined);
  if (working) original.current ??= working.document;
  return useMemo(
    () =>
      working && {
        ...known,
        session,
        meshes,
        working,
        effects,
        since,
        route,
        go,
        mode,
        setMode,
        turnPaper,
        scales: scalesOf(working.assessment, effects),
        document: underOption(working.document, route.option),
        original: original.current ?? working.document,
        condition: route.condition ?? working.condition,
        dark: paper === 'dark',
      },
    [known, session, working, effects, route, mode, paper],
  );
}

const meshes = new Meshes(api.mesh);

const PAGES: Readonly<Record<Page, () => preact.JSX.Element>> = {
  start: StartPage,
  float: FloatPage,
  stability: StabilityPage,
  ledger: LedgerPage,
  hull: HullPage,
  print: PrintPage,
};

function Whole() {
  const { route } = useApp();
  const About = PAGES[route.page];
  return (
    <div class={`app on-${route.page}`}>
      <Header />
      <Register />
      <Strip />
      <Notice />
      <main>
        <About />
      </main>
      {route.page !== 'print' && (
        <>
          <Cautions />
          <PrintOnly />
        </>
      )}
      <Spoken />
    </div>
  );
}

function Notice() {
  const { session, working } = useApp();
  const { notice } = useSnapshot();
  const words = notice || working.trouble;
  if (!words) return null;
  return (
    <p class="notice" role="alert">
      {words}{' '}
      {notice && (
        <button type="button" class="quiet" onClick={() => session.dismiss()}>
          Understood
        </button>
      )}
    </p>
  );
}
