/** The cut pack of what is looked at: asked for, watched while it is made, ticked off. */
import { useCallback, useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { CutAnswer, Cutting, ShopProgress } from '../contract.ts';
import { useBoat, useEditing, useRoute } from '../session/context.tsx';
import * as api from '../session/cutting-api.ts';
import { whyNot } from '../session/review-store.ts';
import type { Progress } from './words.ts';

const LOOK_AGAIN_MS = 700;

export interface CutPack {
  readonly source: api.Source;
  readonly status: Cutting | undefined;
  readonly answer: CutAnswer | undefined;
  readonly progress: ShopProgress | undefined;
  readonly progressByPiece: Progress;
  /** Why something was refused, or empty. */
  readonly trouble: string;
  readonly begin: () => void;
  readonly cancel: () => void;
  /** Whether the server took a request that it answers with the progress; the bar shows why not. */
  readonly submit: (saying: Promise<ShopProgress>, what: string) => Promise<boolean>;
  /** Takes an answer how far the steel is. */
  readonly take: (progress: ShopProgress) => void;
}

type PackContent = Pick<CutPack, 'answer' | 'progress' | 'take'> & {
  /** Tells that something is being ticked: what was asked before is older. */
  readonly tick: () => void;
};

export function useCutting(): CutPack {
  const { working } = useBoat();
  const { route } = useRoute();
  const { session } = useEditing();
  const { refit, edit } = working;
  const { revision, option } = route;
  const source = useMemo(() => ({ refit, revision, option }), [refit, revision, option]);
  const [trouble, setTrouble] = useState('');
  const refused = useCallback((error: unknown) => setTrouble(whyNot(error)), []);
  const heard = useCallback(() => setTrouble(''), []);
  const [status, setStatus] = useStatus(source, edit, { refused, heard });
  const { answer, progress, take, tick } = usePack(source, edit, status, refused);
  const act = (doing: Promise<Cutting>) => {
    setTrouble('');
    doing.then(setStatus, refused);
  };
  const progressByPiece = useMemo(
    () => new Map((progress?.pieces ?? []).map((piece) => [piece.id, piece])),
    [progress],
  );
  return {
    source,
    status,
    answer,
    progress,
    progressByPiece,
    trouble,
    begin: () => act(api.begin(source)),
    cancel: () => act(api.cancel(source)),
    submit: async (saying, what) => {
      tick();
      try {
        take(await saying);
        return true;
      } catch (error) {
        session.say(`Not done: ${what}. ${whyNot(error)}`);
        return false;
      }
    },
    take,
  };
}

interface StatusListener {
  readonly refused: (error: unknown) => void;
  readonly heard: () => void;
}

/** How the pack of a source is doing, looked at again and again while it is made. */
function useStatus(
  source: api.Source,
  edit: number,
  { refused, heard }: StatusListener,
): readonly [Cutting | undefined, (status: Cutting) => void] {
  const [status, setStatus] = useState<Cutting>();
  const [missed, setMissed] = useState(0);
  useEffect(() => setStatus(undefined), [source]);
  useEffect(() => {
    let here = true;
    api.status(source).then((one) => here && setStatus(one), refused);
    return () => {
      here = false;
    };
  }, [source, edit]);
  useEffect(() => {
    if (status?.state !== 'working') return undefined;
    const look = () =>
      api.status(source).then(
        (one) => {
          heard();
          setStatus(one);
        },
        (error: unknown) => {
          refused(error);
          setMissed((n) => n + 1); // and looked at again: the server may come back
        },
      );
    const timer = setTimeout(() => void look(), LOOK_AGAIN_MS);
    return () => clearTimeout(timer);
  }, [status, missed]);
  return [status, setStatus];
}

/** What is in the pack, and how far its steel is. */
function usePack(
  source: api.Source,
  edit: number,
  status: Cutting | undefined,
  refused: (error: unknown) => void,
): PackContent {
  const [answer, setAnswer] = useState<CutAnswer>();
  const [progress, setProgress] = useState<ShopProgress>();
  const sayings = useRef(0);
  const tick = () => {
    sayings.current += 1;
  };
  useEffect(() => {
    setAnswer(undefined);
    setProgress(undefined);
  }, [source]);
  useEffect(() => {
    if (!status || status.nests === 'none') return;
    const before = sayings.current;
    Promise.all([api.answer(source), api.progress(source)]).then(([pack, latest]) => {
      setAnswer(pack);
      // what was ticked meanwhile is answered by itself, and is newer
      if (sayings.current === before) setProgress(latest);
    }, refused);
  }, [source, status?.nests, status?.document_sha256, status?.state === 'working', edit]);
  const take = (latest: ShopProgress) => {
    tick(); // what was asked before this answer came is older
    setProgress(latest);
  };
  return { answer, progress, take, tick };
}
