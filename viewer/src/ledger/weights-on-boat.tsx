/** The weights of the ledger on the boat from the side: a row and its place are highlighted together. */
import { useMemo } from 'preact/hooks';
import { useBoat } from '../session/context.tsx';
import { bothBoats } from '../shared/answer/figures.ts';
import { comparedIn } from '../shared/answer/floats.ts';
import type { LedgerLine } from '../shared/boat/ledger.ts';
import { type Frame, scaleOf, upturned } from '../shared/boat/side-view.ts';
import { nearestPlace, placesOf, type WeightPlace } from './places.ts';
import { kindOf } from './view-of.ts';

/** How near the pointer must be [px]. */
const NEAR = 14;

interface Props {
  readonly frame: Frame;
  readonly width: number;
  readonly rows: readonly LedgerLine[];
  /** Path of the item that is highlighted; empty where none is. */
  readonly highlighted: string;
  readonly highlight: (path: string) => void;
  /** Told which item is picked, to bring its row into sight. */
  readonly pick: (path: string) => void;
}

type SpotPress = MouseEvent & { readonly currentTarget: SVGSVGElement };

export function WeightsOnBoat({ frame, width, rows, highlighted, highlight, pick }: Props) {
  const { working, condition } = useBoat();
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  const now = after ?? before;
  const scale = useMemo(
    () => scaleOf(frame, width, now && upturned(now)),
    [frame, width, now && upturned(now)],
  );
  const places = useMemo(() => placesOf(rows, scale), [rows, scale]);
  const under = (e: SpotPress) => {
    const { left, top } = e.currentTarget.getBoundingClientRect();
    return nearestPlace(places, [e.clientX - left, e.clientY - top], NEAR)?.row.item.path ?? '';
  };
  const place = places.find(({ row }) => row.item.path === highlighted);
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: with keys a row is highlighted by its own figures
    <svg
      class={`ledger-weights ${highlighted ? 'asked' : ''}`}
      width={width}
      height={scale.height}
      viewBox={`0 0 ${width} ${scale.height.toFixed(1)}`}
      role="img"
      aria-label={`${rows.length} weights of the ledger where they lie`}
      onPointerMove={(e) => highlight(under(e))}
      onPointerLeave={() => highlight('')}
      onClick={(e) => pick(under(e))}
    >
      {places.map((place) => (
        <Dot key={place.row.item.path} place={place} />
      ))}
      {place && <HighlightedWeight place={place} width={width} />}
    </svg>
  );
}

const CLASSES = {
  ...{ 'comes off': 'off', 'goes on': 'on', moves: 'moves', 'new steel': 'steel' },
} as const;

function Dot({ place }: { place: WeightPlace }) {
  const { row, at, to, radius } = place;
  const [x, y] = at.map((v) => v.toFixed(1));
  return (
    <g class={CLASSES[kindOf(row)]}>
      {to && <path d={`M${x},${y}L${to.map((v) => v.toFixed(1)).join()}`} />}
      <circle cx={x} cy={y} r={radius.toFixed(1)} />
      {to && <circle cx={to[0].toFixed(1)} cy={to[1].toFixed(1)} r={radius.toFixed(1)} />}
    </g>
  );
}

/** The one that is highlighted, ringed and named above all others. */
function HighlightedWeight({
  place: { row, at, to, radius },
  width,
}: {
  place: WeightPlace;
  width: number;
}) {
  const [x, y] = to ?? at;
  const isLeft = x > width / 2;
  return (
    <g class="meant">
      {to && <path d={`M${at.join()}L${to.join()}`} />}
      <circle cx={at[0]} cy={at[1]} r={radius + 4} />
      {to && <circle cx={x} cy={y} r={radius + 4} />}
      <text
        x={x + (isLeft ? -1 : 1) * (radius + 9)}
        y={y - 6}
        text-anchor={isLeft ? 'end' : 'start'}
      >
        {row.name}
      </text>
    </g>
  );
}
