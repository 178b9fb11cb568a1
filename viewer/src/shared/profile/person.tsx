/** A person drawn to scale in the profile: on the cabin sole and at the helm, with headroom and the line of sight. */
import { useEffect, useState } from 'preact/hooks';
import type {
  ConditionResult,
  HeadroomResult,
  HeadroomStation,
  PersonResult,
  SightResult,
} from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { housesOf, sightsIn } from '../answer/person.ts';
import type { Scale } from '../boat/side-view.ts';
import { quantity } from '../words/numbers.ts';

let isShown = true;
const listeners = new Set<(shown: boolean) => void>();

/** Whether the person is drawn, and choosing it: one choice for every profile. */
export function usePersonShown(): readonly [boolean, (shown: boolean) => void] {
  const [shown, setShown] = useState(isShown);
  useEffect(() => {
    listeners.add(setShown);
    return () => {
      listeners.delete(setShown);
    };
  }, []);
  const choose = (next: boolean) => {
    isShown = next;
    for (const tell of listeners) tell(next);
  };
  return [shown, choose];
}

export function PersonInProfile({
  scale,
  now,
}: {
  scale: Scale;
  now: ConditionResult | undefined;
}) {
  const { working } = useBoat();
  const [shown] = usePersonShown();
  const { person } = working.assessment;
  if (!now || !person || !shown || scale.keelUp) return null;
  const helm = person.helms.find((h) => h.id === now.stage);
  const sights = sightsIn(person, now.id).filter((s) => s.stage === now.stage);
  return (
    <g class="person">
      {housesOf(person)
        .filter(({ now: room }) => room.stage === now.stage)
        .map(({ now: room }) => (
          <InHouse key={room.id} room={room} person={person} scale={scale} />
        ))}
      {helm && (
        <Figure x={helm.x_m} floor={helm.floor_z_m} height={person.height_m} scale={scale} />
      )}
      {sights.map((sight) => (
        <LineOfSight key={sight.posture} sight={sight} scale={scale} />
      ))}
    </g>
  );
}

/** How high a drawing must reach for the person to be in it [m]. */
export const crownsOf = (person: PersonResult | null): readonly number[] =>
  (person?.helms ?? []).map((h) => h.floor_z_m + (person?.height_m ?? 0));

/** Standing where headroom is least under the roof, with that headroom. */
function InHouse({
  room,
  person,
  scale,
}: {
  room: HeadroomResult;
  person: PersonResult;
  scale: Scale;
}) {
  const standing = room.stations.filter((s) => s.middle_m !== null && s.middle_m > 0);
  const [first, last] = [standing.at(0)?.x_m, standing.at(-1)?.x_m];
  const { least_x_m: leastX } = room;
  if (first === undefined || last === undefined || leastX === null) return null;
  // clear of the after end, where half of the figure would be outside
  const wanted = Math.min(leastX, last - 0.3);
  const away = (s: HeadroomStation) => Math.abs(s.x_m - wanted);
  const at = standing.reduce((a, b) => (away(b) < away(a) ? b : a));
  const height = at.middle_m ?? 0;
  const x = scale.x(at.x_m) - 0.3 * scale.perMetre;
  const [floor, roof] = [scale.z(at.sole_z_m), scale.z(at.sole_z_m + height)];
  return (
    <g>
      <path class="sole" d={soleOf(person, first, last, scale)} />
      <Figure x={at.x_m} floor={at.sole_z_m} height={person.height_m} scale={scale} />
      <path class="headroom" d={`M${x},${floor}V${roof}M${x - 4},${roof}h8M${x - 4},${floor}h8`} />
      <text x={x - 6} y={scale.z(at.sole_z_m + height / 2)} text-anchor="end">
        {quantity(height, 'm', 0.01)}
      </text>
    </g>
  );
}

/** The cabin sole as far as a house stands over it. */
function soleOf({ sole }: PersonResult, first: number, last: number, scale: Scale): string {
  const at = (x: number) => {
    const after = sole.findIndex((p) => p.x_m >= x);
    const [b, a] = [sole[after], sole[after - 1]];
    if (!b) return sole.at(-1)?.z_m ?? 0;
    return a ? a.z_m + ((b.z_m - a.z_m) * (x - a.x_m)) / (b.x_m - a.x_m) : b.z_m;
  };
  const xs = [first, ...sole.map((p) => p.x_m).filter((x) => x > first && x < last), last];
  return `M${xs.map((x) => `${scale.x(x).toFixed(1)},${scale.z(at(x)).toFixed(1)}`).join('L')}`;
}

const BODY =
  'M-.1,0L.05,0L.045,-.05C.06,-.25 .075,-.4 .085,-.5C.095,-.62 .085,-.75 .04,-.835L-.03,-.835C-.08,-.75 -.09,-.6 -.075,-.5C-.065,-.35 -.04,-.2 -.045,-.05Z';

/** A figure facing forward, as tall as the person. */
function Figure({
  x,
  floor,
  height,
  scale,
}: {
  x: number;
  floor: number;
  height: number;
  scale: Scale;
}) {
  const tall = height * scale.perMetre;
  return (
    <g
      class="figure"
      transform={`translate(${scale.x(x).toFixed(1)},${scale.z(floor).toFixed(1)}) scale(${tall.toFixed(2)})`}
    >
      <path d={BODY} />
      <circle cx="-.01" cy="-.928" r=".072" />
    </g>
  );
}

/** What the words of a line of sight take along it [px]. */
const WORDS_PX = 140;

/** From the eye over the highest obstacle to the water, or out of the drawing. */
function LineOfSight({ sight, scale }: { sight: SightResult; scale: Scale }) {
  const { eye_m: eye, over_m: over, water_m: water, blind_m: blind } = sight;
  if (!over) return null;
  const [x0, z0] = [scale.x(eye[0]), scale.z(eye[2])];
  const slope = (scale.z(over[2]) - z0) / (scale.x(over[0]) - x0);
  const end = Math.max(0, water ? scale.x(water[0]) : 0);
  const z = (x: number) => z0 + slope * (x - x0);
  return (
    <g class={`sight ${sight.posture}`}>
      <path d={`M${x0.toFixed(1)},${z0.toFixed(1)}L${end.toFixed(1)},${z(end).toFixed(1)}`} />
      <circle cx={scale.x(over[0])} cy={scale.z(over[2])} r="2.5" />
      {sight.posture === 'standing' && blind !== null && (
        <text x={6} y={Math.min(z(Math.max(end, 6)), z(end + WORDS_PX)) - 5}>
          {end > 0 ? '' : '← '}
          water {quantity(blind, 'm', 0.1)} ahead
        </text>
      )}
    </g>
  );
}
