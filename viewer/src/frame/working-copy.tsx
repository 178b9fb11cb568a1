/** One boat: her working copy, how she is looked at, and the page about her. */
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { PinInput } from '../contract.ts';
import { CuttingPage } from '../cutting/page.tsx';
import { FloatPage } from '../float/page.tsx';
import { HullPage } from '../hull/page.tsx';
import { LedgerPage } from '../ledger/page.tsx';
import { PrintPage } from '../print/page.tsx';
import { ReviewPage } from '../review/page.tsx';
import { Meshes } from '../scene/mesh-cache.ts';
import { inPlace } from '../session/answer-times.ts';
import * as api from '../session/api.ts';
import { AppContext, type Known, type Shown, SnapshotContext, useApp } from '../session/context.ts';
import { listen } from '../session/events.ts';
import { QUIET_MS } from '../session/following.ts';
import { lookedAt, standingOf } from '../session/review.ts';
import { Book, type Leaves } from '../session/review-store.ts';
import type { Page, Route } from '../session/route.ts';
import { Session } from '../session/session.ts';
import type { Snapshot } from '../session/snapshot.ts';
import type { Mapping } from '../shared/boat/document.ts';
import { type Mode, scalesOf } from '../shared/colour/paint.ts';
import { Composer } from '../shared/comments/composer.tsx';
import { Cautions } from '../shared/feedback/cautions.tsx';
import { Waiting } from '../shared/feedback/waiting.tsx';
import { onPage } from '../shared/view3d/use-boat-view.ts';
import { StabilityPage } from '../stability/page.tsx';
import { StartPage } from '../start/page.tsx';
import { Bar } from './bar.tsx';
import { EmptyPage } from './empty.tsx';
import { Falls } from './falls.tsx';
import { Header, Register } from './header.tsx';
import { PrintOnly } from './print-only.tsx';
import { Spoken } from './spoken.tsx';
import { Strip } from './strip.tsx';
import { usePaper } from './theme.ts';
import { onUndoKeys } from './undo-keys.ts';

interface Props {
  readonly refit: string;
  readonly known: Known;
  readonly route: Route;
  readonly go: (to: Partial<Route>) => void;
}

export function Boat({ refit, known, route, go }: Props) {
  const [session, snapshot] = useSession(refit, route);
  const [book, said] = useBook(refit, known, snapshot);
  const [shut, setShut] = useState('');
  useEffect(() => {
    if (known.inFile) return undefined;
    const other = () => {
      session.refresh();
      void book.refresh();
    };
    return listen(refit, {
      edit: (edit) => session.heard(edit),
      other,
      saved: (edit) => session.saved(edit),
      lost: () => session.refresh(),
      shut: setShut,
    });
  }, [session, book]);
  const shown = useShown(known, [session, book], snapshot, { said, shut }, [route, go]);
  const { working, problem } = snapshot;
  const isLookedAt = known.inFile || route.revision !== undefined;
  useEffect(
    () => (isLookedAt ? undefined : onUndoKeys((way) => session.travel(way))),
    [session, isLookedAt],
  );
  useEffect(() => {
    if (snapshot.gone) go({ option: null });
  }, [snapshot.gone]);
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
  const { condition, option, revision } = route;
  const session = useMemo(() => new Session(refit, { condition, option, revision }), [refit]);
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
  useEffect(() => session.look({ condition, option, revision }), [condition, option, revision]);
  return [session, snapshot];
}

/** What is said of her, read anew when an edit has settled: a signature may be stale since. */
function useBook(
  refit: string,
  { visitor }: Known,
  { working, busy }: Snapshot,
): readonly [Book, Leaves] {
  const book = useMemo(() => new Book(refit, visitor.role === 'owner'), [refit]);
  const [said, setSaid] = useState(book.present);
  useEffect(() => {
    const leave = book.watch(setSaid);
    const refresh = () => void book.refresh();
    addEventListener('focus', refresh);
    return () => {
      leave();
      removeEventListener('focus', refresh);
    };
  }, [book]);
  const edit = working?.edit;
  useEffect(() => {
    if (edit === undefined || busy) return undefined;
    const wait = book.present.review ? QUIET_MS : 0;
    const timer = setTimeout(() => void book.refresh(), wait);
    return () => clearTimeout(timer);
  }, [edit, busy]);
  return [book, said];
}

/** The same object until something is answered, or looked at in another way. */
function useShown(
  known: Known,
  [session, book]: readonly [Session, Book],
  { working, effects, since }: Snapshot,
  { said, shut }: { readonly said: Leaves; readonly shut: string },
  [route, go]: readonly [Route, Props['go']],
): Shown | undefined {
  const [mode, setMode] = useState<Mode>('trim');
  const [paper, turnPaper] = usePaper();
  const [commenting, comment] = useState<PinInput>();
  const original = useRef(new Map<string | null, Mapping>());
  if (working && !original.current.has(working.option))
    original.current.set(working.option, working.document);
  return useMemo(
    () =>
      working && {
        ...known,
        session,
        book,
        said,
        shut,
        standing: standingOf(said.review, said.revisions, route.revision),
        looked: known.filed?.looked ?? lookedAt(said.revisions, route.revision),
        commenting,
        comment,
        readOnly: known.inFile || route.revision !== undefined,
        meshes,
        working,
        effects,
        since,
        route,
        go,
        mode,
        setMode,
        turnPaper,
        scales: scalesOf(working.assessment, effects, working.profile),
        document: working.document,
        original: original.current.get(working.option) ?? working.document,
        condition: route.condition ?? working.condition,
        dark: paper === 'dark',
      },
    [known, session, working, effects, said, shut, commenting, route, mode, paper],
  );
}

const meshes = new Meshes(api.mesh);

const PAGES: Readonly<Record<Page, () => preact.JSX.Element>> = {
  start: StartPage,
  float: FloatPage,
  stability: StabilityPage,
  ledger: LedgerPage,
  hull: HullPage,
  cutting: CuttingPage,
  review: ReviewPage,
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
      <Bar />
      <Falls />
      <main>
        <About />
      </main>
      {route.page !== 'print' && (
        <>
          <Cautions />
          <PrintOnly />
        </>
      )}
      <Composer />
      <Spoken />
    </div>
  );
}
