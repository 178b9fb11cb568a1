/** The cut pack of what is looked at: asked for, watched while it is made, ticked off. */
import { useCallback, useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { CutAnswer, Cutting, ShopProgress } from '../contract.ts';
import { useApp } from '../session/context.ts';
import * as api from '../session/cutting-api.ts';
import { whyNot } from '../session/review-store.ts';
import type { Far } from './words.ts';

const LOOK_AGAIN_MS = 700;

export interface Shop {
  readonly source: api.Source;
  readonly told: Cutting | undefined;
  readonly answer: CutAnswer | undefined;
  readonly progress: ShopProgress | undefined;
  readonly far: Far;
  /** Why something was refused, or empty. */
  readonly trouble: string;
  readonly begin: () => void;
  readonly cancel: () => void;
  /** Whether something was taken whose answer is how far the steel is; why not is said in the bar. */
  readonly say: (saying: Promise<ShopProgress>, what: string) => Promise<boolean>;
  /** Takes an answer how far the steel is. */
  readonly take: (progress: ShopProgress) => void;
}

export function useCutting(): Shop {
  const { working, route, session } = useApp();
  const { refit, edit } = working;
  const { revision, option } = route;
  const source = useMemo(() => ({ refit, revision, option }), [refit, revision, option]);
  const [told, setTold] = useState<Cutting>();
  const [answer, setAnswer] = useState<CutAnswer>();
  const [progress, setProgress] = useState<ShopProgress>();
  const [trouble, setTrouble] = useState('');
  const [missed, setMissed] = useState(0);
  const sayings = useRef(0);
  const refused = useCallback((error: unknown) => setTrouble(whyNot(error)), []);
  const take = (far: ShopProgress) => {
    sayings.current += 1; // what was asked before this answer came is older
    setProgress(far);
  };
  const act = (doing: Promise<Cutting>) => {
    setTrouble('');
    doing.then(setTold, refused);
  };
  useEffect(() => {
    setTold(undefined);
    setAnswer(undefined);
    setProgress(undefined);
  }, [source]);
  useEffect(() => {
    let here = true;
    api.status(source).then((one) => here && setTold(one), refused);
    return () => {
      here = false;
    };
  }, [source, edit]);
  useEffect(() => {
    if (told?.state !== 'working') return undefined;
    const look = () =>
      api.status(source).then(
        (one) => {
          setTrouble('');
          setTold(one);
        },
        (error: unknown) => {
          refused(error);
          setMissed((n) => n + 1); // and looked at again: the server may come back
        },
      );
    const timer = setTimeout(() => void look(), LOOK_AGAIN_MS);
    return () => clearTimeout(timer);
  }, [told, missed]);
  useEffect(() => {
    if (!told || told.nests === 'none') return;
    const before = sayings.current;
    Promise.all([api.answer(source), api.progress(source)]).then(([pack, far]) => {
      setAnswer(pack);
      // what was ticked meanwhile is answered by itself, and is newer
      if (sayings.current === before) setProgress(far);
    }, refused);
  }, [source, told?.nests, told?.document_sha256, told?.state === 'working', edit]);
  const far = useMemo(
    () => new Map((progress?.pieces ?? []).map((piece) => [piece.id, piece])),
    [progress],
  );
  return {
    source,
    told,
    answer,
    progress,
    far,
    trouble,
    begin: () => act(api.begin(source)),
    cancel: () => act(api.cancel(source)),
    say: async (saying, what) => {
      sayings.current += 1;
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
