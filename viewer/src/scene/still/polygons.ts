/** Flat convex polygons in space, cut by planes. */
import { Vector3 } from 'three';

export type Polygon = readonly Vector3[];
/** How far a point lies beyond a plane; what is not is on the other side. */
export type Beyond = (point: Vector3) => number;

/** What of a polygon lies beyond a plane, and what does not; nothing where that is all. */
export function parted(
  polygon: Polygon,
  beyond: Beyond,
): readonly [Polygon | undefined, Polygon | undefined] {
  const heights = polygon.map(beyond);
  if (heights.every((h) => h >= 0)) return [polygon, undefined];
  if (heights.every((h) => h <= 0)) return [undefined, polygon];
  const around = polygon.flatMap((point, i) => {
    const next = (i + 1) % polygon.length;
    return crossed(point, polygon[next] ?? point, [heights[i] ?? 0, heights[next] ?? 0]);
  });
  return [
    whole(around.filter(({ height }) => height >= 0)),
    whole(around.filter(({ height }) => height <= 0)),
  ];
}

interface AtHeight {
  readonly point: Vector3;
  readonly height: number;
}

/** A corner, and after it where its side crosses the plane, if it does. */
function crossed(
  point: Vector3,
  next: Vector3,
  [height, then]: readonly [number, number],
): readonly AtHeight[] {
  if (height * then >= 0) return [{ point, height }];
  const between = new Vector3().lerpVectors(point, next, height / (height - then));
  return [
    { point, height },
    { point: between, height: 0 },
  ];
}

const whole = (corners: readonly AtHeight[]) =>
  corners.length > 2 ? corners.map(({ point }) => point) : undefined;

/** A polygon in bands between heights that rise, each with its number from below. */
export function banded(
  polygon: Polygon,
  height: Beyond,
  rising: readonly number[],
): readonly (readonly [Polygon, number])[] {
  const bands: (readonly [Polygon, number])[] = [];
  let rest: Polygon | undefined = polygon;
  for (const [band, at] of rising.entries()) {
    if (!rest) return bands;
    const [over, under]: ReturnType<typeof parted> = parted(rest, (p) => height(p) - at);
    if (under) bands.push([under, band]);
    rest = over;
  }
  if (rest) bands.push([rest, rising.length]);
  return bands;
}

/** What is left of a polygon outside a convex opening, given by what lies beyond its sides. */
export function outside(polygon: Polygon, sides: readonly Beyond[]): readonly Polygon[] {
  const left: Polygon[] = [];
  let rest: Polygon | undefined = polygon;
  for (const side of sides) {
    if (!rest) break;
    const [over, under]: ReturnType<typeof parted> = parted(rest, side);
    if (over) left.push(over);
    rest = under;
  }
  return left;
}
