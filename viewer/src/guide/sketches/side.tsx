/** Drawings of her from the side: waterline, centres, trim, flotation, freeboards. */
import type { ComponentChildren } from 'preact';
import type { ConditionResult, Outline, Profile } from '../../contract.ts';
import {
  type Attitude,
  frameOf,
  type Scale,
  scaleOf,
  svgPathOf,
  upturned,
  waterAt,
  withHoles,
} from '../../shared/boat/side-view.ts';
import { quantity } from '../../shared/words/numbers.ts';
import { plainWords } from '../../shared/words/plain-words.ts';
import type { SketchName } from '../entry.ts';
import { type GuideFacts, ownFigureWords } from '../facts.ts';
import { Centre } from './centre.tsx';

const WIDTH = 420;
/** What words above and below the boat need. */
const ROOM = 16;

interface SideProps {
  readonly profile: Profile;
  readonly facts: GuideFacts;
  readonly name: SketchName;
}

/** What is drawn over her, and what it says in words; nothing where she has no such thing. */
interface DrawnSide {
  readonly says: string;
  readonly marks: ComponentChildren;
  /** Whose water is drawn; the design waterline alone where none is. */
  readonly water?: ConditionResult | undefined;
}

export function SideSketch({ profile, facts, name }: SideProps) {
  const scale = scaleOf(frameOf(profile), WIDTH);
  const drawn = DRAWINGS[name]?.(profile, facts, scale);
  if (!drawn) return null;
  const { water } = drawn;
  return (
    <svg
      class="sketch"
      viewBox={`0 ${-ROOM} ${WIDTH} ${(scale.height + 2 * ROOM).toFixed(1)}`}
      role="img"
      aria-label={drawn.says}
    >
      {water && <path class="sea" d={seaPath(water, profile, scale)} />}
      <SideOutlines profile={profile} scale={scale} />
      {water && <path class="strong" d={linePath(water, profile, scale)} />}
      {drawn.marks}
    </svg>
  );
}

const BELOW: readonly Outline['role'][] = ['appendage', 'hull', 'sheer'];
const STANDING: readonly Outline['role'][] = ['existing', 'part'];

function SideOutlines({ profile, scale }: { profile: Profile; scale: Scale }) {
  const below = profile.outlines.filter(({ role }) => BELOW.includes(role));
  const parts = profile.outlines.filter(({ role }) => STANDING.includes(role));
  return (
    <>
      {below.map((o) => (
        <path key={o.id} class="body" d={svgPathOf(o.points_m, o.closed, scale)} />
      ))}
      {withHoles(parts).map((outlines, i) => (
        <path
          key={i}
          class="part"
          fill-rule="evenodd"
          d={outlines.map((o) => svgPathOf(o.points_m, o.closed, scale)).join('')}
        />
      ))}
    </>
  );
}

function linePath(water: Attitude, { length_waterline_m: length }: Profile, scale: Scale): string {
  const { x0, x1 } = endsOf(scale);
  const at = (x: number) =>
    `${scale.x(x).toFixed(1)},${scale.z(waterAt(water, length, x)).toFixed(1)}`;
  return `M${at(x0)}L${at(x1)}`;
}

const seaPath = (water: Attitude, profile: Profile, scale: Scale) =>
  `${linePath(water, profile, scale)}L${WIDTH},${scale.height + ROOM}L0,${scale.height + ROOM}Z`;

/** Places along the boat at both edges of the drawing [m]. */
const endsOf = ({ x, perMetre }: Scale) => {
  const x0 = -x(0) / perMetre;
  return { x0, x1: x0 + WIDTH / perMetre };
};

type DrawSide = (profile: Profile, facts: GuideFacts, scale: Scale) => DrawnSide | undefined;

const afloat = ({ now }: GuideFacts) => (now && !upturned(now) ? now : undefined);

const waterline: DrawSide = ({ length_waterline_m: length }, { assessment }, scale) => {
  const [fp, ap, z] = [scale.x(0), scale.x(length), scale.z(0)];
  const long = quantity(assessment.hull.length_waterline_m, 'm', 0.01);
  return {
    says: `From the side, bow to the left: the design waterline, ${long} from the forward to the after perpendicular.`,
    marks: (
      <>
        <path class="dashed" d={`M0,${z}H${WIDTH}`} />
        <path d={`M${fp},${z - 26}V${z + 26}M${ap},${z - 26}V${z + 26}`} />
        <text x={fp - 4} y={z - 14} text-anchor="end">
          FP
        </text>
        <text x={ap + 4} y={z - 14}>
          AP
        </text>
        <text x={WIDTH - 4} y={z + 14} text-anchor="end">
          DWL
        </text>
      </>
    ),
  };
};

const centres: DrawSide = (_, facts, scale) => {
  const boat = afloat(facts);
  if (!boat) return undefined;
  const [x, , z] = boat.centre_of_gravity_m;
  const { lcb_m: bx, vcb_m: bz } = facts.assessment.hull;
  const zero = scale.x(0);
  return {
    says: `From the side, bow to the left: centre of gravity G, LCG ${ownFigureWords(facts, 'lcg')}; centre of buoyancy B at the design waterline.`,
    water: boat,
    marks: (
      <>
        <path d={`M${zero},${scale.z(0) - 20}V${scale.height + 4}`} />
        <path d={`M${zero},${scale.height}H${scale.x(x)}m0,-4v8`} />
        <text x={(zero + scale.x(x)) / 2} y={scale.height + 13} text-anchor="middle">
          LCG
        </text>
        <text x={zero - 4} y={scale.z(0) - 10} text-anchor="end">
          FP
        </text>
        <Centre x={scale.x(x)} y={scale.z(z)} name="G" />
        <Centre x={scale.x(bx)} y={scale.z(bz)} name="B" hollow />
      </>
    ),
  };
};

const trim: DrawSide = ({ length_waterline_m: length }, facts, scale) => {
  const boat = afloat(facts);
  if (!boat) return undefined;
  const [bow, stern] = [facts.figureOf.get('bow'), facts.figureOf.get('stern')];
  const z = scale.z(0);
  return {
    says: `From the side, bow to the left: her water, and the design waterline dashed. Trim ${ownFigureWords(facts, 'trim')}.`,
    water: boat,
    marks: (
      <>
        <path class="dashed" d={`M0,${z}H${WIDTH}`} />
        <path d={`M${scale.x(0)},${z - 18}v36M${scale.x(length)},${z - 18}v36`} />
        <text x={4} y={scale.height + 12}>
          bow {bow?.value} {bow?.side}
        </text>
        <text x={WIDTH - 4} y={scale.height + 12} text-anchor="end">
          stern {stern?.value} {stern?.side}
        </text>
      </>
    ),
  };
};

const flotation: DrawSide = ({ length_waterline_m: length }, facts, scale) => {
  const boat = afloat(facts);
  if (!boat) return undefined;
  const x = scale.x(boat.lcf_m);
  const y = scale.z(waterAt(boat, length, boat.lcf_m));
  return {
    says: `From the side, bow to the left: she trims about her LCF, ${quantity(boat.lcf_m, 'm', 0.01)} aft of the forward perpendicular.`,
    water: boat,
    marks: (
      <>
        <path class="solid" d={`M${x},${y}l9,15h-18z`} />
        <text x={x + 13} y={y + 14}>
          LCF
        </text>
        <text x={x - 24} y={-3} text-anchor="end">
          ‹ weight here: bow down
        </text>
        <text x={x + 24} y={-3}>
          weight here: stern down ›
        </text>
        <path class="thin" d={`M${x},${-ROOM}V${y}`} />
      </>
    ),
  };
};

const freeboards: DrawSide = ({ marks, length_waterline_m: length }, facts, scale) => {
  const boat = afloat(facts);
  if (!boat || boat.freeboards_at_marks.length === 0) return undefined;
  const read = boat.freeboards_at_marks.flatMap((at) => {
    const mark = marks.find((one) => one.id === at.mark);
    return mark ? [{ ...mark, words: quantity(at.mean_mm, 'mm', 1) }] : [];
  });
  return {
    says: `From the side, bow to the left: freeboards ${read.map((at) => `${plainWords(at.id)} ${at.words}`).join(', ')}.`,
    water: boat,
    marks: read.map(({ id, x_m, sheer_z_m, words }, i) => {
      const [x, top] = [scale.x(x_m), scale.z(sheer_z_m)];
      const bottom = scale.z(waterAt(boat, length, x_m));
      return (
        <g key={id}>
          <path
            class="strong"
            d={`M${x},${top}V${bottom}M${x - 4},${top}h8M${x - 4},${bottom}h8`}
          />
          <text x={x} y={scale.height + (i % 2 === 0 ? 0 : 13)} text-anchor="middle">
            {words}
          </text>
          <path class="thin" d={`M${x},${bottom}V${scale.height - 12}`} />
        </g>
      );
    }),
  };
};

const DRAWINGS: Readonly<Partial<Record<SketchName, DrawSide>>> = {
  waterline,
  centres,
  trim,
  flotation,
  freeboards,
};
