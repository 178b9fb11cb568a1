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
import * as api from '../session/api.ts';
import { AppContext, type Known, type Shown, SnapshotContext, useApp } from '../session/context.ts';
import { listen } from '../session/events.ts';
import { signableRevision, standingOf } from '../session/review.ts';
import { type ReviewState, ReviewStore } from '../session/review-store.ts';
import type { Page, Route } from '../session/route.ts';
import { inPlace } from '../session/working-copy/answer-times.ts';
import { QUIET_MS } from '../session/working-copy/following.ts';
import { Session } from '../session/working-copy/session.ts';
import type { Snapshot } from '../session/working-copy/snapshot.ts';
import type { Mapping } from '../shared/boat/document.ts';
import { type Mode, scalesOf } from '../shared/colour/paint.ts';
import { Composer } from '../shared/comments/composer.tsx';
import { Cautions } from '../shared/feedback/cautions.tsx';
import { Waiting } from '../shared/feedback/waiting.tsx';
import { onPage } from '../shared/view3d/use-boat-view.ts';
import { StabilityPage } from '../stability/page.tsx';
import { StartPage } from '../start/page.tsx';
import { AnnouncedResult } from './announced-result.tsx';
import { EmptyPage } from './empty-page.tsx';
import { FigureStrip } from './figure-strip.tsx';
import { Header, Register } from './header.tsx';
import { Notices } from './notices.tsx';
import { PrintOnly } from './print-only.tsx';
import { useTheme } from './theme.ts';
import { onUndoKeys } from './undo-keys.ts';
import { UnstableNotice } from './unstable-notice.tsx';

interface Props {
  readonly refit: string;
  readonly known: Known;
  readonly route: Route;
  readonly go: (to: Partial<Route>) => void;
}

export function WorkingCopy({ refit, known, route, go }: Props) {
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
  const page = useMemo(() => <Pages />, []);
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
): readonly [ReviewStore, ReviewState] {
  const book = useMemo(() => new ReviewStore(refit, visitor.role === 'owner'), [refit]);
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
  [session, book]: readonly [Session, ReviewStore],
  { working, effects, since }: Snapshot,
  { said, shut }: { readonly said: ReviewState; readonly shut: string },
  [route, go]: readonly [Route, Props['go']],
): Shown | undefined {
  const [mode, setMode] = useState<Mode>('trim');
  const [paper, turnPaper] = useTheme();
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
        looked: known.filed?.looked ?? signableRevision(said.revisions, route.revision),
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

function Pages() {
  const { route } = useApp();
  const About = PAGES[route.page];
  return (
    <div class={`app on-${route.page}`}>
      <Header />
      <Register />
      <FigureStrip />
      <Notices />
      <UnstableNotice />
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
      <AnnouncedResult />
    </div>
  );
}
