/** Drawings of her midship section: metacentre, righting lever, camber, sides. */
import type { ComponentChildren } from 'preact';
import type { ConditionResult, Profile } from '../../contract.ts';
import { type Strand, seen, strandsOf } from '../../shared/boat/heeled.ts';
import type { Level } from '../../shared/boat/level.ts';
import type { FlatPoint, Point } from '../../shared/boat/points.ts';
import { waterAt } from '../../shared/boat/side-view.ts';
import { gmStep, quantity } from '../../shared/words/numbers.ts';
import type { SketchName } from '../entry.ts';
import type { GuideFacts } from '../facts.ts';
import { LOOKED_AT_DEG } from '../terms/stability.ts';
import { Centre } from './centre.tsx';

const WIDTH = 420;
const TALL = 230;
const MARGIN = 18;
const UPRIGHT: Level = { heel: 0, trim: 0, offset: 0 };

/** From metres across and above the water to the drawing. */
type ToDrawing = (point: FlatPoint) => FlatPoint;

interface DrawnSection {
  readonly says: string;
  readonly level: Level;
  readonly isAfloat?: boolean;
  /** What else has to be in the drawing, across and above the water [m]. */
  readonly also?: readonly FlatPoint[];
  readonly marks: (place: ToDrawing) => ComponentChildren;
}

interface SectionProps {
  readonly profile: Profile;
  readonly facts: GuideFacts;
  readonly name: SketchName;
}

export function SectionSketch({ profile, facts, name }: SectionProps) {
  const strands = strandsOf(profile.body).filter(({ kind }) => DRAWN.includes(kind));
  const midship = strands.find(({ kind }) => kind === 'midship');
  const drawn = midship && DRAWINGS[name]?.(midship, profile, facts);
  if (!drawn) return null;
  const { level, also = [] } = drawn;
  const { place, height } = placing([
    ...strands.flatMap(({ points }) => points.map((point) => seen(level, point))),
    ...also,
  ]);
  const [, water] = place([0, 0]);
  return (
    <svg
      class="sketch"
      viewBox={`0 0 ${WIDTH} ${height.toFixed(0)}`}
      role="img"
      aria-label={drawn.says}
    >
      {drawn.isAfloat && <path class="sea" d={`M0,${water}H${WIDTH}V${height}H0Z`} />}
      {strands.map((strand, i) => (
        <path key={i} class={CLASSES[strand.kind] ?? 'thin'} d={pathOf(strand, level, place)} />
      ))}
      {drawn.isAfloat && <path class="strong" d={`M0,${water}H${WIDTH}`} />}
      {drawn.marks(place)}
    </svg>
  );
}

const DRAWN: readonly Strand['kind'][] = ['midship', 'keel', 'house'];
const CLASSES: Readonly<Partial<Record<Strand['kind'], string>>> = { midship: 'body' };

/** The scale at which points fit the drawing, the boat in its middle. */
function placing(points: readonly FlatPoint[]): { place: ToDrawing; height: number } {
  const across = Math.max(0.1, ...points.map(([u]) => Math.abs(u)));
  const heights = points.map(([, h]) => h);
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const per = Math.min((WIDTH / 2 - MARGIN) / across, TALL / Math.max(0.1, high - low));
  return {
    height: (high - low) * per + 2 * MARGIN,
    place: ([u, h]) => [WIDTH / 2 + u * per, MARGIN + (high - h) * per],
  };
}

function pathOf({ points, closed }: Strand, level: Level, place: ToDrawing): string {
  const steps = points.map((point) => at(place(seen(level, point))));
  return steps.length > 0 ? `M${steps.join('L')}${closed ? 'Z' : ''}` : '';
}

const at = ([x, y]: FlatPoint) => `${x.toFixed(1)},${y.toFixed(1)}`;

type DrawSection = (
  midship: Strand,
  profile: Profile,
  facts: GuideFacts,
) => DrawnSection | undefined;

const sectionX = (midship: Strand): number => midship.points[0]?.[0] ?? 0;

/** Upright at the height at which she floats there. */
const uprightAt = (boat: ConditionResult, midship: Strand, profile: Profile): Level => ({
  ...UPRIGHT,
  offset: waterAt(boat, profile.length_waterline_m, sectionX(midship)),
});

const metacentre: DrawSection = (midship, profile, { now }) => {
  if (!now || now.upside_down) return undefined;
  const level = uprightAt(now, midship, profile);
  const [, y, z] = now.centre_of_gravity_m;
  const centre: FlatPoint = [y, z - level.offset];
  const above: FlatPoint = [0, now.km_m - level.offset];
  const gm = quantity(now.gm_m, 'm', gmStep(now.gm_m));
  return {
    says: `Midship section from astern: the metacentre M above the centre of gravity G, GM ${gm}.`,
    level,
    isAfloat: true,
    also: [centre, above],
    marks: (place) => {
      const [g, m] = [place(centre), place(above)];
      return (
        <>
          <path class="heavy" d={`M${m[0]},${g[1]}V${m[1]}`} />
          <Centre x={g[0]} y={g[1]} name="G" />
          <Centre x={m[0]} y={m[1]} name={`M, GM ${gm}`} hollow />
        </>
      );
    },
  };
};

/** How she lies at the heel that is drawn, and her lever there. */
function heeledAt({ righting_levers: levers }: ConditionResult) {
  const i = levers?.heel_deg.indexOf(LOOKED_AT_DEG) ?? -1;
  const [trim, offset, gz] = [levers?.trim_deg[i], levers?.water_offset_m[i], levers?.gz_m[i]];
  if (trim === undefined || offset === undefined || gz === undefined) return undefined;
  return { level: { heel: LOOKED_AT_DEG, trim, offset }, gz };
}

const lever: DrawSection = (_, __, { now }) => {
  const heeled = now && heeledAt(now);
  if (!now || !heeled) return undefined;
  const { level, gz } = heeled;
  const centre = seen(level, now.centre_of_gravity_m);
  const words = quantity(gz, 'm', 0.001);
  return {
    says: `Midship section from astern, heeled ${LOOKED_AT_DEG}° to starboard: weight acts down through G, the water up along a line ${words} from it, which is GZ.`,
    level,
    isAfloat: true,
    marks: (place) => {
      const [gx, gy] = place(centre);
      const [zx] = place([centre[0] + gz, centre[1]]);
      // the words of each stand away from the other, whichever side the lever lies on
      const [left, right] = [
        { dx: -7, 'text-anchor': 'end' },
        { dx: 7, 'text-anchor': 'start' },
      ] as const;
      const [ofG, ofZ] = gz < 0 ? [right, left] : [left, right];
      return (
        <>
          <path class="arrow" d={`M${gx},${gy}v62m-4,-8l4,8l4,-8`} />
          <path
            class="arrow"
            d={`M${zx},${gy + 62}V${gy - 40}M${zx - 4},${gy - 32}L${zx},${gy - 40}L${zx + 4},${gy - 32}`}
          />
          <path class="heavy" d={`M${gx},${gy}H${zx}`} />
          <circle class="solid" cx={gx} cy={gy} r="4" />
          <text x={gx} y={gy + 4} {...ofG}>
            G
          </text>
          <text x={zx} y={gy + 4} {...ofZ}>
            GZ {words}
          </text>
          <text x={gx} y={gy + 60} {...ofG}>
            weight
          </text>
          <text x={zx} y={gy - 34} {...ofZ}>
            water
          </text>
        </>
      );
    },
  };
};

/** The deck's edge at a section: between the two points of the sheer beside it. */
function deckEdge(profile: Profile, x: number): Point | undefined {
  const points = profile.body.find(({ role }) => role === 'sheer')?.points_m ?? [];
  const after = points.findIndex((point) => point[0] >= x);
  const [a, b] = [points[after - 1], points[after]];
  if (!a || !b) return b;
  const t = (x - a[0]) / (b[0] - a[0]);
  return [x, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
}

const camber: DrawSection = (midship, profile) => {
  const edge = deckEdge(profile, sectionX(midship));
  if (!edge) return undefined;
  const [, half, z] = edge;
  const crown = Math.max(...midship.points.map((point) => point[2]));
  return {
    says: 'Midship section from astern: camber is how far the middle of the deck stands above a straight line from edge to edge.',
    level: UPRIGHT,
    marks: (place) => {
      const [port, starboard] = [place([-half, z]), place([half, z])];
      const [x, top] = place([0, crown]);
      return (
        <>
          <path class="dashed" d={`M${at(port)}L${at(starboard)}`} />
          <path class="heavy" d={`M${x},${top}V${port[1]}`} />
          <text x={x + 8} y={port[1] + 14}>
            camber
          </text>
        </>
      );
    },
  };
};

const sides: DrawSection = (midship, profile) => {
  const edge = deckEdge(profile, sectionX(midship));
  if (!edge) return undefined;
  const [, half, z] = edge;
  const foot = Math.min(...midship.points.map((point) => point[2]));
  return {
    says: 'Midship section from astern, with upright lines through the edges of the deck.',
    level: UPRIGHT,
    marks: (place) => {
      const [port, starboard] = [place([-half, z]), place([half, z])];
      const [, low] = place([0, foot]);
      return <path class="dashed" d={`M${at(port)}V${low}M${at(starboard)}V${low}`} />;
    },
  };
};

const DRAWINGS: Readonly<Partial<Record<SketchName, DrawSection>>> = {
  metacentre,
  lever,
  camber,
  sides,
};
