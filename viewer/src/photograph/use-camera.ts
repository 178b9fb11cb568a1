/** Which places may be marked, and what is seen with the camera the marks give. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { PhotographPlace, PhotographResult } from '../contract.ts';
import { useBoat, useReview, useRoute } from '../session/context.tsx';
import {
  type InPhotograph,
  layIntoPhotograph,
  photographPlaces,
} from '../session/photograph-api.ts';
import { whyNot } from '../session/review-store.ts';
import { FEWEST, type SetMark } from './marks.ts';

const PAUSE_MS = 250;

export interface CameraAnswer {
  readonly places: readonly PhotographPlace[];
  readonly seen: PhotographResult | undefined;
  readonly wrong: string;
}

export function useCamera(
  marks: readonly SetMark[],
  { naturalWidth: width, naturalHeight: height }: HTMLImageElement,
): CameraAnswer {
  const { reviewStore } = useReview();
  const { condition, working } = useBoat();
  const { route } = useRoute();
  const [places, setPlaces] = useState<readonly PhotographPlace[]>([]);
  const [seen, setSeen] = useState<PhotographResult>();
  const [wrong, setWrong] = useState('');
  const boat = useMemo<InPhotograph>(
    () => ({ refit: reviewStore.refit, option: route.option, condition }),
    [reviewStore.refit, route.option, condition],
  );
  useEffect(() => {
    const stop = new AbortController();
    photographPlaces(boat, stop.signal).then(setPlaces, (e) => tell(e, stop.signal, setWrong));
    return () => stop.abort();
  }, [boat]);
  useEffect(() => {
    const stop = new AbortController();
    const known = marks.filter((m) => places.some((p) => p.id === m.id));
    const ask = async () => {
      const asked = { width_px: width, height_px: height, marks: known.map(withoutPlace) };
      try {
        setSeen(await layIntoPhotograph(boat, asked, stop.signal));
        setWrong('');
      } catch (e) {
        if (!stop.signal.aborted) setSeen(undefined);
        tell(e, stop.signal, setWrong);
      }
    };
    if (known.length < FEWEST) {
      setSeen(undefined);
      setWrong('');
      return undefined;
    }
    const later = setTimeout(() => void ask(), PAUSE_MS);
    return () => {
      clearTimeout(later);
      stop.abort();
    };
  }, [boat, marks, places, width, height, working]);
  return { places, seen, wrong };
}

const withoutPlace = (mark: SetMark) => ({ ...mark, place_m: null });

/** Says why something was not answered, unless it was given up. */
function tell(error: unknown, signal: AbortSignal, say: (words: string) => void): void {
  if (!signal.aborted) say(whyNot(error));
}
