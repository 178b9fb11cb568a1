/** The cut pack of what is looked at: asked for, watched while it is made, ticked off. */
import { useCallback, useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { useApp } from '../../app-context.ts';
import type { CutAnswer, Cutting, ShopProgress } from '../../contract.ts';
import type { Far } from '../../cutting.ts';
import * as api from '../../cutting-api.ts';

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
  /** Does something whose answer is how far the steel is; what it was refused for is said. */
  readonly say: (saying: Promise<ShopProgress>) => void;
}

export function useCutting(): Shop {
  const { working, route } = useApp();
  const { refit, edit } = working;
  const { revision, option } = route;
  const source = useMemo(() => ({ refit, revision, option }), [refit, revision, option]);
  const [told, setTold] = useState<Cutting>();
  const [answer, setAnswer] = useState<CutAnswer>();
  const [progress, setProgress] = useState<ShopProgress>();
  const [trouble, setTrouble] = useState('');
  const sayings = useRef(0);
  const refused = useCallback(
    (error: unknown) => setTrouble(error instanceof Error ? error.message : 'No answer.'),
    [],
  );
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
    const timer = setTimeout(() => api.status(source).then(setTold, refused), LOOK_AGAIN_MS);
    return () => clearTimeout(timer);
  }, [told]);
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
    say: (saying) => {
      setTrouble('');
      sayings.current += 1;
      saying.then((far) => {
        sayings.current += 1; // what was asked before this answer came is older
        setProgress(far);
      }, refused);
    },
  };
}
