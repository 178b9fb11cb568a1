/** The session of a boat and her review, followed as long as she is on the page. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import * as api from '../session/api.ts';
import type { Known } from '../session/context.tsx';
import { listen } from '../session/events.ts';
import { Meshes } from '../session/mesh-cache.ts';
import { type ReviewState, ReviewStore } from '../session/review-store.ts';
import type { Route } from '../session/route.ts';
import { QUIET_MS } from '../session/working-copy/following.ts';
import { Session } from '../session/working-copy/session.ts';
import type { Snapshot } from '../session/working-copy/snapshot.ts';

export const meshes = new Meshes(api.mesh);

export function useSession(refit: string, route: Route): readonly [Session, Snapshot] {
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

/** Her review, read again once an edit has settled: a signature may have gone stale. */
export function useReviewStore(
  refit: string,
  { visitor }: Known,
  { working, busy }: Snapshot,
): readonly [ReviewStore, ReviewState] {
  const store = useMemo(() => new ReviewStore(refit, visitor.role === 'owner'), [refit]);
  const [state, setState] = useState(store.present);
  useEffect(() => {
    const leave = store.watch(setState);
    const refresh = () => void store.refresh();
    addEventListener('focus', refresh);
    return () => {
      leave();
      removeEventListener('focus', refresh);
    };
  }, [store]);
  const edit = working?.edit;
  useEffect(() => {
    if (edit === undefined || busy) return undefined;
    const wait = store.present.review ? QUIET_MS : 0;
    const timer = setTimeout(() => void store.afterEdit(), wait);
    return () => clearTimeout(timer);
  }, [edit, busy]);
  return [store, state];
}

/** Hears from the server; answers why the reader is let in no more, or nothing. */
export function useEvents(
  session: Session,
  store: ReviewStore,
  inFile: boolean,
  isFrozen: boolean,
): string {
  const [closedWhy, setClosedWhy] = useState('');
  useEffect(() => {
    if (inFile) return undefined;
    const other = () => {
      session.refresh();
      void store.refresh();
    };
    let timer: ReturnType<typeof setTimeout>;
    return listen(session.refit, {
      edit: (edit) => {
        session.heard(edit);
        if (!isFrozen) return;
        // the revision on the page stays as it is, but its signatures go stale all the same
        clearTimeout(timer);
        timer = setTimeout(() => void store.afterEdit(), QUIET_MS);
      },
      other,
      saved: (edit) => session.saved(edit),
      lost: () => session.refresh(),
      shut: setClosedWhy,
    });
  }, [session, store, inFile, isFrozen]);
  return closedWhy;
}
