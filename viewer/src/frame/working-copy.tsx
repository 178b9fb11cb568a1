/** One boat: her working copy, how she is looked at, and the page about her. */
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { PinInput } from '../contract.ts';
import {
  type BoatAnswer,
  type Commenting,
  type Editing,
  type Known,
  Provide,
  type Reviewing,
  type Routing,
  useRoute,
  useWritten,
  type Viewing,
} from '../session/context.tsx';
import { signableRevision, standingOf } from '../session/review.ts';
import type { Page, Route } from '../session/route.ts';
import { inPlace } from '../session/working-copy/answer-times.ts';
import type { Snapshot } from '../session/working-copy/snapshot.ts';
import { type Mapping, mapping, text } from '../shared/boat/document.ts';
import { type Mode, scalesOf } from '../shared/colour/paint.ts';
import { Composer } from '../shared/comments/composer.tsx';
import { Cautions } from '../shared/feedback/cautions.tsx';
import { Waiting } from '../shared/feedback/waiting.tsx';
import { Hatching } from '../shared/feedback/wedge.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { onPage } from '../shared/view3d/on-page.ts';
import { callBy } from '../shared/words/plain-words.ts';
import { writingKept } from '../shared/words/writing.ts';
import { AnnouncedResult } from './answer/announced-result.tsx';
import { AnswerLine } from './answer/answer-line.tsx';
import { UnstableNotice } from './answer/unstable-notice.tsx';
import { OtherExamples } from './boat-list.tsx';
import { DeletedToast } from './deleted-toast.tsx';
import { EmptyPage } from './empty-page.tsx';
import { Head } from './header.tsx';
import { Notices } from './notices.tsx';
import { PageOf } from './pages.tsx';
import { PrintOnly } from './print-only.tsx';
import { useThemeChoice } from './theme.ts';
import { onUndoKeys } from './undo-keys.ts';
import { meshes, useEvents, useReviewStore, useSession } from './use-session.ts';
import { useWritingChoice } from './writing-choice.ts';

interface Props {
  readonly refit: string;
  readonly known: Known;
  readonly route: Route;
  readonly go: (to: Partial<Route>) => void;
}

export function WorkingCopy({ refit, known, route, go }: Props) {
  const written = useWritingChoice();
  const [session, snapshot] = useSession(refit, route);
  const [reviewStore, reviewState] = useReviewStore(refit, known, snapshot);
  const { offlineReview } = known;
  const { revision } = route;
  const closedWhy = useEvents(session, reviewStore, known.inFile, revision !== undefined);
  const readOnly = known.inFile || revision !== undefined;
  const boat = useBoatAnswer(snapshot, route.condition);
  const editing = useMemo<Editing>(
    () => ({ session, readOnly, closedWhy }),
    [session, readOnly, closedWhy],
  );
  const reviewing = useMemo<Reviewing>(() => {
    const standing = standingOf(reviewState.review, reviewState.revisions, revision);
    const signable = offlineReview?.signable ?? signableRevision(reviewState.revisions, revision);
    return { reviewStore, reviewState, standing, signable };
  }, [reviewStore, reviewState, revision, offlineReview]);
  const routing = useMemo<Routing>(() => ({ route, go }), [route, go]);
  const commenting = useCommentingState();
  const viewing = useViewingState();
  const theme = useThemeChoice();
  useEffect(
    () => (readOnly ? undefined : onUndoKeys((way) => session.undoOrRedo(way))),
    [session, readOnly],
  );
  useRouteFollows(snapshot, routing);
  useAnswerTimes(snapshot);
  const page = useMemo(() => <Pages />, []);
  const { problem, notice } = snapshot;
  if (problem) return <EmptyPage problem={problem.problem} />;
  if (!boat) return <Waiting words={notice || 'Loading the boat…'} />;
  const about = { reviewing, commenting, routing, viewing, theme, written };
  const all = { known, boat, snapshot, editing, ...about };
  return <Provide all={all}>{page}</Provide>;
}

/** The same object until something is answered, or another condition is looked at. */
function useBoatAnswer(
  { working, effects, since }: Snapshot,
  condition: string | undefined,
): BoatAnswer | undefined {
  const original = useRef(new Map<string | null, Mapping>());
  if (working && !original.current.has(working.option))
    original.current.set(working.option, working.document);
  return useMemo(() => {
    if (working) callBy(titlesIn(working.document));
    return (
      working && {
        working,
        effects,
        inputTime: since,
        scales: scalesOf(working.assessment, effects),
        document: working.document,
        original: original.current.get(working.option) ?? working.document,
        condition: condition ?? working.condition,
      }
    );
  }, [working, effects, since, condition]);
}

/** Names as typed, by key. */
const titlesIn = (document: Mapping): Readonly<Record<string, string>> =>
  Object.fromEntries(
    Object.entries(mapping(document.titles)).map(([key, name]) => [key, text(name)]),
  );

function useCommentingState(): Commenting {
  const [commenting, commentOn] = useState<PinInput>();
  return useMemo(() => ({ commenting, commentOn }), [commenting]);
}

function useViewingState(): Viewing {
  const [mode, setMode] = useState<Mode>('trim');
  return useMemo(() => ({ mode, setMode, meshes }), [mode]);
}

/** Leaves an option that is there no more. */
function useRouteFollows({ gone }: Snapshot, { go }: Routing): void {
  useEffect(() => {
    if (gone) go({ option: null });
  }, [gone]);
}

/** Notes how long the answer took; with no drawing on the page all of it is there at once. */
function useAnswerTimes({ working, since }: Snapshot): void {
  useLayoutEffect(() => {
    if (!working) return;
    inPlace('numbers', working.edit, since);
    if (!onPage.view) inPlace('meshes', working.edit, since);
  }, [working]);
}

/** Pages that print themselves, cautions included. */
const PRINT_THEMSELVES: readonly Page[] = ['print', 'guide'];

function Pages() {
  const { route } = useRoute();
  const { writing } = useWritten();
  return (
    <div class={`app on-${route.page}`}>
      <Hatching />
      <Head />
      {/* another way of writing: whoever shows a number shows it anew */}
      <Below key={writingKept(writing)} />
    </div>
  );
}

function Below() {
  const { route } = useRoute();
  return (
    <>
      <AnswerLine />
      <Notices />
      <UnstableNotice />
      <main id="main" tabIndex={-1}>
        <PageOf page={route.page} />
      </main>
      {route.page === 'float' && (
        <WhenEditable>
          <OtherExamples />
        </WhenEditable>
      )}
      {!PRINT_THEMSELVES.includes(route.page) && (
        <>
          <Cautions />
          <PrintOnly />
        </>
      )}
      <Composer />
      <AnnouncedResult />
      <DeletedToast />
    </>
  );
}
