/** Which places may be marked, and what is seen with the camera the marks give. */
import { useEffect, useState } from 'preact/hooks';
import type { PhotographPlace, PhotographResult } from '../contract.ts';
import { useBoat, useReview, useRoute } from '../session/context.tsx';
import { layIntoPhotograph, photographPlaces } from '../session/photograph-api.ts';
import { whyNot } from '../session/review-store.ts';
import { FEWEST, photographsIn } from './marks.ts';

interface CameraAnswer {
  readonly seen: PhotographResult | undefined;
  readonly wrong: string;
  readonly busy: boolean;
}

/** What the marks in the document show. */
export function useCamera(key: string | undefined): CameraAnswer {
  const { reviewStore } = useReview();
  const { condition, working, document } = useBoat();
  const { option, revision } = useRoute().route;
  const [answer, setAnswer] = useState<CameraAnswer>({ seen: undefined, wrong: '', busy: false });
  const marks = photographsIn(document).find((one) => one.key === key)?.marks ?? [];
  const isAsked = key !== undefined && marks.length >= FEWEST;
  useEffect(() => {
    if (!isAsked) {
      setAnswer({ seen: undefined, wrong: '', busy: false });
      return undefined;
    }
    const stop = new AbortController();
    const take = (found: Omit<CameraAnswer, 'busy'>) => {
      if (!stop.signal.aborted) setAnswer({ ...found, busy: false });
    };
    setAnswer((before) => ({ ...before, busy: true }));
    layIntoPhotograph(reviewStore.refit, { condition, option, revision }, key, stop.signal).then(
      (seen) => take({ seen, wrong: '' }),
      (error: unknown) => take({ seen: undefined, wrong: whyNot(error) }),
    );
    return () => stop.abort();
  }, [reviewStore.refit, condition, option, revision, key, isAsked, working]);
  return answer;
}

/** Places of the boat as found that can be marked; none where nothing can be changed. */
export function usePlaces(readOnly: boolean): readonly PhotographPlace[] {
  const { reviewStore } = useReview();
  const { working } = useBoat();
  const { option } = useRoute().route;
  const [places, setPlaces] = useState<readonly PhotographPlace[]>([]);
  useEffect(() => {
    const stop = new AbortController();
    if (!readOnly)
      photographPlaces(reviewStore.refit, option, stop.signal).then(setPlaces, () => undefined);
    return () => stop.abort();
  }, [reviewStore.refit, option, readOnly, working]);
  return places;
}
