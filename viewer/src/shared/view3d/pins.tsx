/** Comments at their places in the drawing; each leads to its thread. */
import { useLayoutEffect, useState } from 'preact/hooks';
import type { PinOutput } from '../../contract.ts';
import type { BoatView } from '../../scene/view.ts';
import { useReview, useRoute } from '../../session/context.tsx';
import { KIND_WORDS, pinWords, threadsOf } from '../../session/review.ts';
import type { FlatPoint } from '../boat/points.ts';
import type { Ref } from './use-boat-view.ts';

interface Props {
  readonly view: Ref<BoatView>;
  /** Called with every picture that is drawn. */
  readonly drawn: Ref<() => void>;
}

export function Pins({ view, drawn }: Props) {
  const { reviewState } = useReview();
  const { route, go } = useRoute();
  const [, countFrame] = useState(0);
  const pinned = threadsOf(reviewState.review).filter(
    ({ comment: { id, state, on } }) =>
      on.part !== null && (state === 'open' || id === route.comment),
  );
  useLayoutEffect(() => {
    drawn.current = pinned.length > 0 ? () => countFrame((n) => n + 1) : null;
    return () => {
      drawn.current = null;
    };
  }, [pinned.length]);
  return (
    <ul class="pins" aria-label="Comments in the drawing">
      {pinned.map(({ comment, number }) => {
        const spot = spotOf(view.current, comment.on);
        if (!spot) return null;
        return (
          <li key={comment.id} style={{ left: `${spot[0]}px`, top: `${spot[1]}px` }}>
            <button
              type="button"
              class={comment.id === route.comment ? 'meant' : ''}
              title={`${KIND_WORDS[comment.kind]} on ${pinWords(comment.on)}: ${comment.text}`}
              aria-label={`${number}. ${KIND_WORDS[comment.kind]} on ${pinWords(comment.on)}`}
              onClick={() => go({ page: 'review', comment: comment.id })}
            >
              {number}
            </button>
          </li>
        );
      })}
    </ul>
  );
}

/** Where a pin is on the canvas: its point, or the middle of its plate or part. */
function spotOf(view: BoatView | null, on: PinOutput): FlatPoint | undefined {
  if (!view || !on.part) return undefined;
  const plate = on.plate ? `${on.part}.${on.plate.replace(`${on.part}.`, '')}` : undefined;
  const middle = view.middle(on.part, plate);
  const point = on.point_m ?? middle;
  return middle && point && view.spot(point);
}
