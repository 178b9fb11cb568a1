/** Waits for what the server knows and who looks at it, then shows the boat that is asked for. */
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import type { RefitCard, Visitor } from './contract.ts';
import { ClosedPage } from './frame/closed-page.tsx';
import { BringBack } from './frame/deleted-boats.tsx';
import { EmptyPage } from './frame/empty-page.tsx';
import { NamePage } from './frame/name-page.tsx';
import { WorkingCopy } from './frame/working-copy.tsx';
import * as api from './session/api.ts';
import { type Fleet, FleetContext, type Known } from './session/context.tsx';
import type { OfflineCopy } from './session/offline/copy.ts';
import type { OfflineReview } from './session/offline/review.ts';
import * as review from './session/review-api.ts';
import { whyNot } from './session/review-store.ts';
import { hashOf, NEED_A_SERVER, type Route, routeOf, tokenOf } from './session/route.ts';
import { Waiting } from './shared/feedback/waiting.tsx';
import { SEAL_WORDS, type SealState } from './shared/files/seal.ts';

interface Props {
  readonly offlineCopy: OfflineCopy | undefined;
  readonly offlineReview: OfflineReview | undefined;
  /** Whether the file it is read from is unchanged since it was made. */
  readonly seal: SealState;
}

export function App({ offlineCopy, offlineReview, seal }: Props) {
  const [known, setKnown] = useState<Known>();
  const [trouble, setTrouble] = useState<unknown>();
  const [asked, go] = useAddress();
  const [gone, setGone] = useState<RefitCard>();
  const ask = () => knownTo(offlineReview, go).then(setKnown, setTrouble);
  const fleet = useMemo<Fleet>(
    () => ({
      remove: async (card) => {
        await api.deleteRefit(card.id);
        setGone(card);
        if (routeOf(location.hash).boat === card.id) go(routeOf(''));
        await ask();
      },
      bringBack: async (card) => {
        await api.bringBack(card.id);
        setGone(undefined);
        await ask();
        go({ ...routeOf(''), boat: card.id });
      },
    }),
    [],
  );
  useEffect(() => void ask(), []);
  if (trouble !== undefined) return <LoadTrouble trouble={trouble} />;
  if (!known) return <Waiting words="Loading the boat…" />;
  if (!isNamed(known)) return <NamePage visitor={known.visitor} done={() => void ask()} />;
  const route = offlineCopy ? inFile(offlineCopy, asked) : within(known.visitor, asked);
  const boat = known.refits.find((card) => card.id === route.boat) ?? known.refits[0];
  return (
    <FleetContext.Provider value={fleet}>
      {seal !== 'whole' && (
        <p class="notice unsealed" role="alert">
          <b>{SEAL_WORDS[seal]}</b>
        </p>
      )}
      {gone && <DeletedNotice card={gone} done={() => setGone(undefined)} />}
      {boat ? (
        <WorkingCopy key={boat.id} refit={boat.id} known={known} route={route} go={go} />
      ) : (
        <EmptyPage problem={undefined} />
      )}
    </FleetContext.Provider>
  );
}

/** Why it is not known what there is to see. */
function LoadTrouble({ trouble }: { trouble: unknown }) {
  const isShut = trouble instanceof api.Refusal && trouble.problem.status === 403;
  return isShut ? <ClosedPage words={trouble.message} /> : <Waiting words={whyNot(trouble)} />;
}

const isNamed = ({ inFile, visitor }: Known) =>
  inFile || visitor.role === 'owner' || visitor.name !== '';

/** That a boat was deleted, until it is understood or undone. */
function DeletedNotice({ card, done }: { card: RefitCard; done: () => void }) {
  return (
    <div class="notice gone" role="alert">
      <b>{card.name}</b> was deleted. <BringBack card={card} words="Undo" />
      <button type="button" class="quiet" onClick={done}>
        Understood
      </button>
    </div>
  );
}

async function knownTo(
  offlineReview: OfflineReview | undefined,
  go: (to: Partial<Route>) => void,
): Promise<Known> {
  const token = tokenOf(location.hash);
  if (token) {
    await review.enter(token);
    go({ page: 'review' });
  }
  const [visitor, kinds, grammar, cautions] = await Promise.all([
    offlineReview ? READER : review.visitor(),
    api.kinds(),
    api.grammar(),
    api.cautions(),
  ]);
  const refits = visitor.refit === null ? await api.refits() : [cardOf(visitor.refit)];
  return {
    refits,
    kinds,
    grammar,
    cautions,
    visitor,
    offlineReview: offlineReview,
    inFile: offlineReview !== undefined,
  };
}

/** Whoever opens a file looks at all of it, comments and signs; the name goes with each. */
const READER: Visitor = {
  role: 'reviewer',
  refit: null,
  revisions: [],
  name: '',
  expires_at: null,
  boat: '',
};
const cardOf = (id: string): RefitCard => ({ id, name: id, kept_in: '', path: '' });

/** A file holds one plan, and nothing to begin with. */
const inFile = ({ working }: OfflineCopy, route: Route): Route => ({
  ...route,
  option: working.option,
  revision: undefined,
  page: route.page === 'start' || NEED_A_SERVER.includes(route.page) ? 'float' : route.page,
});

/** A reviewer sees one of the revisions that the link opens, the latest first. */
const within = ({ role, revisions }: Visitor, route: Route): Route =>
  role === 'owner'
    ? route
    : {
        ...route,
        boat: undefined,
        page: route.page === 'start' ? 'float' : route.page,
        revision: revisions.find((one) => one === route.revision) ?? revisions.at(-1),
      };

function useAddress(): readonly [Route, (to: Partial<Route>) => void] {
  const [route, setRoute] = useState(() => routeOf(location.hash));
  useEffect(() => {
    const follow = () =>
      tokenOf(location.hash) ? location.reload() : setRoute(routeOf(location.hash));
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
