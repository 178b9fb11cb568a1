/** The plot of righting levers without what moves: areas by their sign, curves, rulings. */
import { useId } from 'preact/hooks';
import type { ConditionResult } from '../../contract.ts';
import { toSide } from '../../shared/boat/levers.ts';
import { number } from '../../shared/words/numbers.ts';
import { timesOf, unitSign } from '../../shared/words/units.ts';
import {
  type Also,
  AREAS,
  areaPath,
  bandPath,
  type Curves,
  curvePath,
  middleOf,
  type Plane,
  rulings,
  sidesOf,
  signedPath,
} from './plot.ts';

/** Width below which the drawing has room for few words [px]. */
const NARROW_DRAWING = 520;

interface DrawingProps {
  readonly now: ConditionResult;
  readonly levers: Curves;
  readonly old: Curves | undefined;
  readonly plane: Plane;
  readonly also: Also;
}

export function LeverDrawing({ now, levers, old, plane, also }: DrawingProps) {
  const worse = now.worse_side ?? 'starboard';
  const areas = sidesOf(plane.span).includes(worse) ? AREAS : [];
  const hatch = useId();
  return (
    <>
      <pattern
        id={hatch}
        width="6"
        height="6"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <path class="hatch" d="M0,0V6" />
      </pattern>
      <path class="signed rights" d={signedPath(plane, levers, 1)} />
      <path class="signed capsizes" d={signedPath(plane, levers, -1)} />
      <path
        class="signed hatched"
        d={signedPath(plane, levers, -1)}
        style={{ fill: `url(#${hatch})` }}
      />
      {areas.map((ends) => (
        <path
          key={ends[0]}
          class={`area from-${ends[0]}`}
          d={areaPath(plane, levers, worse, ends)}
        />
      ))}
      <Ruled plane={plane} />
      <path class="band" d={bandPath(plane, levers)} />
      {old && also.bareBefore && (
        <path class="curve before bare" d={curvePath(plane, old, 'gz_without_house_m')} />
      )}
      {old && <path class="curve before" d={curvePath(plane, old, 'gz_m')} />}
      <path class="curve bare" d={curvePath(plane, levers, 'gz_without_house_m')} />
      {also.dry && <path class="curve dry" d={curvePath(plane, levers, 'gz_well_dry_m')} />}
      {now.wells_full && (
        <path class="curve filled" d={curvePath(plane, levers, 'gz_wells_full_m')} />
      )}
      <path class="curve now" d={curvePath(plane, levers, 'gz_m')} />
      <SignWords plane={plane} levers={levers} />
    </>
  );
}

/** What the areas mean, by sign and word, where they are largest. */
function SignWords({ plane, levers }: { plane: Plane; levers: Curves }) {
  return (
    <g class="sign-words">
      {sidesOf(plane.span).flatMap((side) =>
        ([1, -1] as const).flatMap((sign) => {
          const at = middleOf(levers, side, sign);
          if (!at || plane.span === 'circle') return [];
          const words = sign > 0 ? '+ rights her' : '− turns her over';
          return (
            <text
              key={`${side}${sign}`}
              x={plane.x(at.heel).toFixed(1)}
              y={(plane.y(at.lever / 2) + 4).toFixed(1)}
              text-anchor="middle"
            >
              {words}
            </text>
          );
        }),
      )}
    </g>
  );
}

function Ruled({ plane }: { plane: Plane }) {
  const { heels, levers } = rulings(plane, plane.width < NARROW_DRAWING);
  const [left, right] = [plane.x(plane.ends[0]), plane.x(plane.ends[1])];
  const floor = plane.y(plane.range[0]);
  return (
    <g class="ruled">
      {levers.map((lever) => (
        <g key={lever}>
          <path
            class={Math.abs(lever) < 1e-9 ? 'zero' : ''}
            d={`M${left},${plane.y(lever).toFixed(1)}H${right}`}
          />
          <text x={left - 6} y={plane.y(lever) + 4} text-anchor="end">
            {number(lever * timesOf('m'), plane.step * timesOf('m'))}
          </text>
        </g>
      ))}
      {heels.map((heel) => (
        <g key={heel}>
          <path d={`M${plane.x(heel).toFixed(1)},${plane.y(plane.range[1])}V${floor}`} />
          <text x={plane.x(heel)} y={floor + 14} text-anchor="middle">
            {Math.abs(heel)}°
          </text>
        </g>
      ))}
      <text x={left + 5} y={plane.y(plane.range[1]) + 12}>
        lever, {unitSign('m')}
      </text>
      {sidesOf(plane.span).map((side) => (
        <text key={side} x={plane.x(toSide(165, side))} y={floor - 6} text-anchor="middle">
          to {side}
        </text>
      ))}
    </g>
  );
}
