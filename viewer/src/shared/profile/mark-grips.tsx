/** Measured freeboards on the side view: a mark is dragged along the sheer, its reading up and down. */
import type { MarkOnProfile, Profile } from '../../contract.ts';
import { useBoat, useEditing } from '../../session/context.tsx';
import { mapping, numberOr } from '../boat/document.ts';
import type { FlatPoint } from '../boat/points.ts';
import { heightAlong, type Scale } from '../boat/side-view.ts';
import { lengthField } from '../grasp/dimension.ts';
import type { Graspable } from '../grasp/graspable.ts';
import { Grip, Grips } from '../grasp/grip.tsx';
import { plainWords } from '../words/plain-words.ts';

export function MarkGrips({ scale }: { scale: Scale }) {
  const { working } = useBoat();
  const { readOnly } = useEditing();
  if (readOnly || scale.keelUp) return null;
  const { marks } = working.profile;
  return (
    <Grips label="Freeboard marks to drag">
      {marks.map((mark) => (
        <MarkGrip key={mark.id} mark={mark} scale={scale} />
      ))}
    </Grips>
  );
}

/** Beyond these it is no reading [m]. */
const FREEBOARDS = [-1, 8] as const;
/** Places along any boat, where no sheer is drawn [m]. */
const ANYWHERE = [-20, 80] as const;
const DECIMALS = 10_000;
const tenths = (metres: number) => Math.round(metres * DECIMALS) / DECIMALS;

function MarkGrip({ mark, scale }: { mark: MarkOnProfile; scale: Scale }) {
  const { profile } = useBoat().working;
  const along = placeOf(mark, profile, scale);
  const reading = readingOf(mark, scale);
  const size: FlatPoint = [scale.width, scale.height];
  return (
    <>
      <Grip
        one={along}
        spot={([x = mark.x_m]) => [scale.x(x), scale.z(sheerAt(mark, profile, x))]}
        size={size}
        look="across"
      />
      <Grip
        one={reading}
        spot={([freeboard = 0]) => [scale.x(mark.x_m), scale.z(mark.sheer_z_m - freeboard)]}
        size={size}
        look="across"
      />
    </>
  );
}

/** Height of the sheer where a mark goes to: as far from the drawn line as where it was measured. */
function sheerAt(mark: MarkOnProfile, profile: Profile, x: number): number {
  const sheer = profile.outlines.find((one) => one.role === 'sheer')?.points_m ?? [];
  const [here, there] = [heightAlong(sheer, mark.x_m), heightAlong(sheer, x)];
  return mark.sheer_z_m + (here === undefined || there === undefined ? 0 : there - here);
}

/** Where a mark is along the boat; its height goes with the sheer. */
function placeOf(mark: MarkOnProfile, profile: Profile, scale: Scale): Graspable {
  const sheer = profile.outlines.find((one) => one.role === 'sheer')?.points_m ?? [];
  const xs = sheer.map(([x]) => x);
  const [low, high] = xs.length > 0 ? [Math.min(...xs), Math.max(...xs)] : ANYWHERE;
  return {
    path: `survey.marks.${mark.id}`,
    name: `mark ${plainWords(mark.id)}, x`,
    axes: [{ field: lengthField('x, aft', [low, high]), low, high, way: [scale.perMetre, 0] }],
    read: (whole) => {
      const x = mapping(whole).x_m;
      return typeof x === 'number' ? [x] : undefined;
    },
    write: ([x = mark.x_m], whole) => ({
      ...mapping(whole),
      x_m: x,
      sheer_z_m: tenths(sheerAt(mark, profile, x)),
    }),
  };
}

const sidesOf = (whole: unknown) => {
  const { port, starboard } = mapping(whole);
  return [numberOr(port, NaN), numberOr(starboard, NaN)] as const;
};

/** The freeboard read at a mark, the mean of both sides; both go up and down together. */
function readingOf(mark: MarkOnProfile, scale: Scale): Graspable {
  const mean = (whole: unknown) => {
    const [port, starboard] = sidesOf(whole);
    return (port + starboard) / 2;
  };
  return {
    path: `survey.marks.${mark.id}.freeboard_m`,
    name: `freeboard ${plainWords(mark.id)}, mean`,
    axes: [
      {
        field: lengthField('freeboard', FREEBOARDS, 'mm'),
        low: FREEBOARDS[0],
        high: FREEBOARDS[1],
        way: [0, scale.perMetre],
      },
    ],
    read: (whole) => (Number.isFinite(mean(whole)) ? [tenths(mean(whole))] : undefined),
    write: ([value = 0], whole) => {
      const [port, starboard] = sidesOf(whole);
      const by = value - mean(whole);
      return { ...mapping(whole), port: tenths(port + by), starboard: tenths(starboard + by) };
    },
  };
}
