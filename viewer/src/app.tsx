/** The page: which boat, which state of her, which page about her. */
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import * as api from './api.ts';
import { AppContext, type Shown } from './app-context.ts';
import { Cautions } from './components/cautions.tsx';
import { Header, Register } from './components/header.tsx';
import { Spoken } from './components/spoken.tsx';
import { Strip } from './components/strip.tsx';
import type { Caution, PartKind, RefitCard } from './contract.ts';
import { underOption, type Mapping } from './document.ts';
import { inPlace } from './marks.ts';
import { FloatPage } from './pages/float.tsx';
import { HullPage } from './pages/hull.tsx';
import { LedgerPage } from './pages/ledger.tsx';
import { PrintPage, PrintSheet } from './pages/print.tsx';
import { EmptyPage } from './pages/empty.tsx';
import { StartPage } from './pages/start.tsx';
import { scalesOf, type Mode } from './paint.ts';
import { usePaper } from './paper.ts';
import { hashOf, routeOf, type Route } from './route.ts';
import { Session, type Snapshot } from './session.ts';

interface Known {
  readonly refits: readonly RefitCard[];
  readonly kinds: readonly PartKind[];
  readonly cautions: readonly Caution[];
}

/** Waits for what the server knows, then shows the boat that is asked for. */
export function App() {
  const [known, setKnown] = useState<Known>();
  const [trouble, setTrouble] = useState('');
  const [route, go] = useRoute();
  useEffect(() => {
    Promise.all([api.refits(), api.kinds(), api.cautions()])
      .then(([refits, kinds, cautions]) => setKnown({ refits, kinds, cautions }))
      .catch((error: unknown) => setTrouble(error instanceof Error ? error.message : 'No answer.'));
  }, []);
  if (trouble) return <Waiting words={trouble} />;
  if (!known) return <Waiting words="Loading the boat…" />;
  const boat = known.refits.find((card) => card.id === route.boat) ?? known.refits[0];
  if (!boat) return <EmptyPage problem={undefined} />;
  return <Boat key={boat.id} refit={boat.id} known={known} route={route} go={go} />;
}

const Waiting = ({ words }: { words: string }) => (
  <main class="waiting">
    <h1>hullchange</h1>
    <p role="status">{words}</p>
  </main>
);

function useRoute(): readonly [Route, (to: Partial<Route>) => void] {
  const [route, setRoute] = useState(() => routeOf(location.hash));
  useEffect(() => {
    const follow = () => setRoute(routeOf(location.hash));
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, []);
  const go = (to: Partial<Route>) => {
    const next = { ...routeOf(location.hash), ...to };
    history.replaceState(null, '', hashOf(next));
    setRoute(next);
  };
  return [route, go];
}

interface BoatProps {
  readonly refit: string;
  readonly known: Known;
  readonly route: Route;
  readonly go: (to: Partial<Route>) => void;
}

function Boat({ refit, known, route, go }: BoatProps) {
  const [session, snapshot] = useSession(refit, route);
  const [mode, setMode] = useState<Mode>('trim');
  const [paper, turnPaper] = usePaper();
  const original = useRef<Mapping>(undefined);
  const { working, problem } = snapshot;
  if (working) original.current ??= working.document;

  useLayoutEffect(() => {
    if (working) inPlace('numbers', working.edit, snapshot.since);
    if (working && route.page !== 'float') inPlace('meshes', working.edit, snapshot.since);
  }, [working]);
  useEffect(() => {
    const first = working?.assessment.parts[0];
    if (first && !route.picked) go({ picked: { change: first.change, part: first.id } });
  }, [working === undefined]);
  const scales = useMemo(
    () => working && scalesOf(working.assessment, snapshot.effects),
    [working, snapshot.effects],
  );
  if (problem) return <EmptyPage problem={problem.problem} />;
  if (!working || !scales) return <Waiting words={snapshot.notice || 'Loading the boat…'} />;
  const shown: Shown = {
    ...known, session, snapshot, working, route, go, mode, setMode, scales,
    document: underOption(working.document, route.option),
    original: original.current ?? working.document,
    condition: route.condition ?? working.condition,
    dark: paper === 'dark',
  };
  return (
    <AppContext.Provider value={shown}>
      <Page turnPaper={turnPaper} />
    </AppContext.Provider>
  );
}

function useSession(refit: string, route: Route): readonly [Session, Snapshot] {
  const { condition, option } = route;
  const session = useMemo(() => new Session(refit, { condition, option }), [refit]);
  const [snapshot, setSnapshot] = useState<Snapshot>(session.present);
  useEffect(() => {
    const leave = session.watch(setSnapshot);
    void session.open();
    return leave;
  }, [session]);
  useEffect(() => session.look({ condition, option }), [condition, option]);
  return [session, snapshot];
}

function Page({ turnPaper }: { turnPaper: () => void }) {
  return (
    <AppContext.Consumer>
      {(shown) =>
        shown && (
          <div class={`app on-${shown.route.page}`}>
            <Header turnPaper={turnPaper} />
            <Register />
            <Strip />
            <Notice shown={shown} />
            <main>
              {shown.route.page === 'start' && <StartPage />}
              {shown.route.page === 'float' && <FloatPage />}
              {shown.route.page === 'ledger' && <LedgerPage />}
              {shown.route.page === 'hull' && <HullPage />}
              {shown.route.page === 'print' && <PrintPage />}
            </main>
            {shown.route.page !== 'print' && (
              <>
                <Cautions />
                <PrintOnly shown={shown} />
              </>
            )}
            <Spoken />
          </div>
        )
      }
    </AppContext.Consumer>
  );
}

function Notice({ shown: { snapshot, session, working } }: { shown: Shown }) {
  const words = snapshot.notice || (working.saved ? '' : troubleOf(working.assessment.findings));
  if (!words) return null;
  return (
    <p class="notice" role="alert">
      {words}{' '}
      {snapshot.notice && (
        <button type="button" class="quiet" onClick={() => session.dismiss()}>
          Understood
        </button>
      )}
    </p>
  );
}

const troubleOf = (findings: readonly { code: string; sentence: string }[]) =>
  findings.find((f) => f.code.startsWith('not-saved'))?.sentence ?? 'The last edit is not saved yet.';

/** The printed sheet on pages that are not printed themselves; drawn once she has settled. */
function PrintOnly({ shown }: { shown: Shown }) {
  if (shown.snapshot.busy || shown.working.partial) return null;
  return (
    <div class="print-only" aria-hidden="true">
      <PrintSheet />
    </div>
  );
}
