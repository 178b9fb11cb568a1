/** Weight down through G, buoyancy up through B, and the righting lever GZ between them. */
import { centresOf, type Held } from '../shared/boat/levers.ts';
import type { FlatPoint } from '../shared/boat/points.ts';
import { quantity } from '../shared/words/numbers.ts';

const ARROW = 34;
const HEAD = 8;
const HALF_HEAD = 4;
/** A lever shorter than this has no head [px]. */
const SHORTEST = 12;
/** Where two letters would lie on one another [px]. */
const NEAR = 20;
const BELOW = 40;
const FOOT = 22;

interface Props {
  readonly held: Held;
  /** Across and above the water [m] on the drawing [px], what is above straight up. */
  readonly at: (point: FlatPoint) => FlatPoint;
  readonly height: number;
}

/** What her lever does, in words with its sign. */
export function leverWords(gz: number): string {
  if (gz === 0) return 'neither rights nor turns her';
  return gz > 0 ? '+ rights her' : '− turns her over';
}

export function Forces({ held, at, height }: Props) {
  const centres = centresOf(held);
  if (!centres) return null;
  const { gravity, buoyancy } = centres;
  const [gx, gy] = at(gravity);
  const [bx, by] = at(buoyancy);
  const slant = at([buoyancy[0], gravity[1]])[1] - gy;
  const [, water] = at([0, 0]);
  const foot = Math.min(height - FOOT, Math.max(by, gy, water) + BELOW);
  const footB = foot + slant;
  const turn = (Math.atan2(slant, bx - gx) * 180) / Math.PI;
  return (
    <g class={`forces ${held.gz > 0 ? 'rights' : 'capsizes'}`}>
      <path class="plumb" d={`M${gx},${gy}V${foot}M${bx},${by}V${footB}`} />
      <path class="force" d={arrow([gx, gy], 1)} />
      <path class="force" d={arrow([bx, by], -1)} />
      <path class="lever" d={`M${gx},${foot}L${bx},${footB}`} />
      {Math.hypot(bx - gx, slant) > SHORTEST && (
        <path
          class="lever-tip"
          d={`M0,0L${-HEAD},-5V5Z`}
          transform={`translate(${bx} ${footB}) rotate(${turn.toFixed(1)})`}
        />
      )}
      <circle class="g" cx={gx} cy={gy} r="4.5" />
      <circle class="b" cx={bx} cy={by} r="4.5" />
      <Letters g={[gx, gy]} b={[bx, by]} way={bx >= gx ? 1 : -1} />
      <text class="gz" x={(gx + bx) / 2} y={Math.max(foot, footB) + 16} text-anchor="middle">
        {`GZ ${quantity(held.gz, 'm', 0.01)} ${leverWords(held.gz)}`}
      </text>
    </g>
  );
}

interface LettersProps {
  readonly g: FlatPoint;
  readonly b: FlatPoint;
  readonly way: 1 | -1;
}

/** The names of both points, each on its outer side; one above the other where they are near. */
function Letters({ g, b, way }: LettersProps) {
  const isClose = Math.hypot(b[0] - g[0], b[1] - g[1]) < NEAR;
  const [up, down] = isClose ? [-6, 14] : [4, 4];
  const [before, after] = way > 0 ? (['end', 'start'] as const) : (['start', 'end'] as const);
  return (
    <>
      <text x={g[0] - 9 * way} y={g[1] + up} text-anchor={before}>
        G
      </text>
      <text x={b[0] + 9 * way} y={b[1] + down} text-anchor={after}>
        B
      </text>
    </>
  );
}

/** An arrow from a point, down (1) or up (-1). */
function arrow([x, y]: FlatPoint, way: 1 | -1): string {
  const tip = y + way * ARROW;
  const barb = tip - way * HEAD;
  return `M${x},${y}V${tip}M${x - HALF_HEAD},${barb}L${x},${tip}L${x + HALF_HEAD},${barb}`;
}
