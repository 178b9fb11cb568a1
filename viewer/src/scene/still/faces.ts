/** The faces of a boat as flat polygons with the colour they are seen in. */
import { type BufferGeometry, Color, type OrthographicCamera, type Plane, Vector3 } from 'three';
import { directionsOf, type Level } from '../../shared/boat/level.ts';
import { eachPoint } from '../../shared/shapes/positions.ts';
import { cornersOf } from '../look/geometry.ts';
import { isGone, isHull } from '../look/roles.ts';
import type { WeightBoxes } from '../look/weight-boxes.ts';
import type { PartMesh } from '../part-mesh.ts';
import type { Stage } from '../stage.ts';
import { type Beyond, banded, outside, type Polygon, parted } from './polygons.ts';

/** A face in the scene, with its colour, and whether it is under water. */
export interface Face {
  readonly polygon: Polygon;
  readonly fill: string;
  readonly isUnder: boolean;
  /** Of what it is a face: they are seen through more and less. */
  readonly of: 'hull' | 'steel' | 'weight';
}

const SUN = new Vector3(-0.42, 0.58, 0.7).normalize();
const SKY = new Color('#eaf3fa');
const GROUND = new Color('#cfc8b8');
/** What sun and sky give, as the moving picture has it. */
const SUN_SHARE = 0.86;
const SKY_SHARE = 0.64;
/** Under water the colour changes in steps so deep [m]. */
const DEPTHS = [0.15, 0.4, 0.7, 1.1, 1.6, 2.3];
/** Steps of light, so that neighbours are one path. */
const TONES = 48;

export function facesOf(stage: Stage, camera: OrthographicCamera): readonly Face[] {
  const eye = new Vector3(0, 0, 1).applyQuaternion(camera.quaternion);
  const { pieces, afloat, finishes, weightBoxes } = stage.parts;
  const shown = { afloat, finishes, eye, cut: stage.section?.plane };
  const boxes = weightBoxes.group.visible ? weightBoxes.solids : [];
  return [
    ...pieces.all.flatMap((piece) => (isGone(piece.role) ? [] : facesOn(piece, shown))),
    ...boxes.flatMap((box) => facesOnBox(box, shown)),
  ];
}

/** A weight's box, which stands in the boat by its place. */
function facesOnBox(box: WeightBoxes['solids'][number], shown: ShownBoat): readonly Face[] {
  const place = box.parent?.position ?? new Vector3();
  const { geometry, material } = box;
  const triangles = trianglesOf(geometry.getAttribute('position').array, cornersOf(geometry));
  return triangles.flatMap((triangle) => {
    const normal = normalOf(triangle);
    const placed = triangle.map((p) => p.clone().add(place));
    const lighting = normal && ({ normal, of: 'weight', shown } as const);
    return lighting ? wetted(placed, material.color, lighting) : [];
  });
}

interface ShownBoat extends Pick<Stage['parts'], 'afloat' | 'finishes'> {
  /** Direction to the eye. */
  readonly eye: Vector3;
  readonly cut: Plane | undefined;
}

function facesOn(piece: PartMesh, shown: ShownBoat): readonly Face[] {
  const of = isHull(piece.role) ? 'hull' : 'steel';
  return piece.filled.flatMap(({ geometry, material }) => {
    const triangles = trianglesOf(geometry.getAttribute('position').array, cornersOf(geometry));
    const smooth = of === 'hull' ? normalsOf(geometry) : [];
    return triangles.flatMap((triangle, i) => {
      const normal = meanOf(smooth[i]) ?? normalOf(triangle);
      if (!normal) return [];
      const plain = [{ polygon: triangle, colour: material.color }];
      const parts = of === 'hull' ? paintedParts(triangle, normal, shown) : plain;
      return parts.flatMap(({ polygon, colour }) => wetted(polygon, colour, { normal, of, shown }));
    });
  });
}

/** Normals at the corners of each triangle; none where light breaks at every edge. */
function normalsOf(geometry: BufferGeometry): readonly Polygon[] {
  const normals = geometry.getAttribute('normal');
  return normals ? trianglesOf(normals.array, cornersOf(geometry)) : [];
}

function trianglesOf(positions: ArrayLike<number>, corners: ArrayLike<number>): readonly Polygon[] {
  const points: Vector3[] = [];
  eachPoint(positions, (x, y, z) => points.push(new Vector3(x, y, z)));
  const triangles: Polygon[] = [];
  eachPoint(corners, (i, j, k) => {
    const [a, b, c] = [points[i], points[j], points[k]];
    if (a && b && c) triangles.push([a, b, c]);
  });
  return triangles;
}

/** Antifouling, boot-top, topsides and deck, less what is open of the deck. */
function paintedParts(triangle: Polygon, normal: Vector3, { finishes }: ShownBoat) {
  const palette = finishes.palette;
  const height = heightOver(finishes.painted);
  const open = normal.y > 0.6 && triangle.every((p) => p.y > 0) ? finishes.openings : [];
  let left: readonly Polygon[] = [triangle];
  for (const [x0, y0, x1, y1] of open) {
    const sides: Beyond[] = [(p) => x0 - p.x, (p) => p.x - x1, (p) => p.z + y0, (p) => -p.z - y1];
    left = left.flatMap((one) => outside(one, sides));
  }
  const coats = [palette.antifouling, palette.bootTop, palette.topsides];
  return left.flatMap((one) =>
    banded(one, height, [0, finishes.bootTop]).map(([polygon, band]) => {
      const middle = polygon.reduce((sum, p) => sum + height(p), 0) / polygon.length;
      const deck = normal.y > 0.62 && middle > 0.25;
      return { polygon, colour: new Color(deck ? palette.deck : coats[band]) };
    }),
  );
}

interface Lighting {
  readonly normal: Vector3;
  readonly of: Face['of'];
  readonly shown: ShownBoat;
}

/** A face in the scene, in parts where the water cuts it and deepens. */
function wetted(polygon: Polygon, colour: Color, { normal, of, shown }: Lighting): readonly Face[] {
  const { afloat, cut, finishes } = shown;
  const boat = afloat.boat.matrix;
  const height = heightOver(afloat.shown.now);
  const depth: Beyond = afloat.waters ? (p) => -height(p) : () => -1;
  const seen = colour.clone().multiply(lightOn(normal.clone().transformDirection(boat), shown));
  return banded(polygon, depth, [0, ...DEPTHS]).flatMap(([part, band]) => {
    const inScene = part.map((p) => p.clone().applyMatrix4(boat));
    const kept = cut ? parted(inScene, (p) => cut.distanceToPoint(p))[0] : inScene;
    if (!kept) return [];
    const deep = [0, 0, ...DEPTHS][band] ?? 0;
    const murk = (1 - Math.exp(-deep * 0.9)) * 0.62;
    const fill = hex(seen.clone().lerp(new Color(finishes.palette.deep), murk));
    return [{ polygon: kept, fill, isUnder: band > 0, of }];
  });
}

/** What light falls on a face, from the side that is seen. */
function lightOn(normal: Vector3, { eye }: ShownBoat): Color {
  if (normal.dot(eye) < 0) normal.negate();
  const sun = Math.max(0, normal.dot(SUN)) * SUN_SHARE;
  const air = GROUND.clone()
    .lerp(SKY, 0.5 + normal.y / 2)
    .multiplyScalar(SKY_SHARE);
  const tone = (v: number) => Math.round((v + sun) * TONES) / TONES;
  return new Color(tone(air.r), tone(air.g), tone(air.b));
}

/** Height over a level, of points in the boat's axes in the scene. */
export function heightOver(level: Level): Beyond {
  const [x, y, z] = directionsOf(level).up;
  return (p) => x * p.x - y * p.z + z * p.y - level.offset;
}

function normalOf([a, b, c]: Polygon): Vector3 | undefined {
  if (!(a && b && c)) return undefined;
  const normal = new Vector3().subVectors(b, a).cross(new Vector3().subVectors(c, a));
  return normal.lengthSq() > 1e-16 ? normal.normalize() : undefined;
}

/** Of the normals at its corners, which run smoothly over the hull. */
function meanOf(normals: Polygon | undefined): Vector3 | undefined {
  const mean = normals?.reduce((sum, one) => sum.add(one), new Vector3());
  return mean && mean.lengthSq() > 1e-6 ? mean.normalize() : undefined;
}

const hex = (colour: Color): string => {
  const within = (v: number) => Math.min(1, Math.max(0, v));
  return `#${new Color(within(colour.r), within(colour.g), within(colour.b)).getHexString()}`;
};
