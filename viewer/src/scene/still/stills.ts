/** Still pictures of the view as it stands: as pixels, and as lines and faces. */
import { type Matrix4, type OrthographicCamera, Vector3 } from 'three';
import type { Deep } from '../../shared/shapes/depth-buffer.ts';
import { eachPoint } from '../../shared/shapes/positions.ts';
import { type SheetSea, type SheetStroke, svgOf } from '../../shared/shapes/svg.ts';
import type { Stroke } from '../look/strokes.ts';
import { facesOf, heightOver } from './faces.ts';
import type { StillOrder, ViewParts } from './parts.ts';
import { pngOf } from './png.ts';

/** Faces of what is seen through, in lines and faces. */
const THROUGH = { hull: 0.03, steel: 0.2 } as const;
/** Lines may lie so little before a cut [m]. */
const ON_CUT = 3e-3;
const RIM_POINTS = 64;

/** PNG, whatever is drawn on the page meanwhile. */
export function pngStill(parts: ViewParts, order: StillOrder): Promise<Blob> {
  const { width, height } = sizeOf(parts, order);
  const { caption = '', paper } = order;
  const studio = {
    ...parts.drawing.studio,
    camera: parts.camera.forSheet(width, height),
    prepare: () => parts.prepare(width / parts.canvas.clientWidth),
  };
  const ink = inkOn(parts, paper);
  return pngOf(studio, { width, height, caption, paper, ink });
}

/** SVG, what is hidden left out. */
export function svgStill(parts: ViewParts, order: StillOrder): string {
  const { width, height } = sizeOf(parts, order);
  const { caption = '', paper } = order;
  parts.prepare(1);
  const camera = parts.camera.forSheet(width, height);
  const onto = projection(camera, width, height);
  const { isThrough } = parts.pieces;
  const faces = facesOf(parts, camera).map(({ polygon, fill, isUnder, isHull }) => {
    const through = isHull ? THROUGH.hull : THROUGH.steel;
    return { corners: polygon.map(onto), fill, isUnder, opacity: isThrough ? through : 1 };
  });
  const pen = width / parts.canvas.clientWidth;
  return svgOf({
    ...{ width, height, paper, caption, isThrough, faces },
    ink: inkOn(parts, paper),
    isFromBelow: camera.getWorldDirection(new Vector3()).y > 0,
    strokes: parts.strokes.map((one) => strokeOn(one, parts, { onto, pen })),
    sea: seaOn(parts, onto),
  });
}

function sizeOf({ canvas }: ViewParts, { width, height }: StillOrder) {
  const { clientWidth: w, clientHeight: h } = canvas;
  return { width, height: height ?? Math.round((width * h) / w) };
}

/** White paper is written on in ink, whatever the page is. */
const inkOn = ({ pieces }: ViewParts, paper: string | undefined) =>
  paper ? '#1c2630' : pieces.palette.ink;

type Onto = (point: Vector3) => Deep;

function projection(camera: OrthographicCamera, width: number, height: number): Onto {
  const matrix = camera.projectionMatrix.clone().multiply(camera.matrixWorldInverse);
  return (point) => {
    const { x, y, z } = point.clone().applyMatrix4(matrix);
    return [((x + 1) / 2) * width, ((1 - y) / 2) * height, z];
  };
}

interface Pen {
  readonly onto: Onto;
  /** A line of a pixel in the view is so broad on the sheet. */
  readonly pen: number;
}

function strokeOn(stroke: Stroke, parts: ViewParts, { onto, pen }: Pen): SheetStroke {
  const { look, dash, inkColour: ink } = stroke;
  const { boat } = parts.afloat;
  const lines = stroke.isShown ? linesOn(stroke, parts) : [];
  const placed = (isUnder: boolean) =>
    lines.flatMap((line) =>
      line.isUnder === isUnder ? [[onto(line.from), onto(line.to)] as const] : [],
    );
  const perMetre = metreOn(onto, boat.matrix);
  return {
    under: placed(true),
    over: placed(false),
    ink,
    width: look.width * pen,
    opacity: look.opacity ?? 1,
    dash: dash && [dash[0] * perMetre, dash[1] * perMetre],
    isThrough: look.through === true,
    behind: Math.max(0, -(look.nearer ?? 0)),
  };
}

/** The segments of a stroke in the scene, less what is cut away. */
function linesOn(stroke: Stroke, { afloat, section }: ViewParts) {
  const height = afloat.waters ? heightOver(afloat.shown.now) : () => 1;
  return pairsOf(stroke.ends).flatMap(([a, b]) => {
    const isUnder = height(a) + height(b) < -2e-3;
    const [from, to] = [a, b].map((p) => p.applyMatrix4(afloat.boat.matrix));
    if (!(from && to)) return [];
    const kept = (p: Vector3) => !section || section.plane.distanceToPoint(p) >= -ON_CUT;
    return kept(from) && kept(to) ? [{ from, to, isUnder }] : [];
  });
}

function pairsOf(ends: ArrayLike<number>): readonly (readonly [Vector3, Vector3])[] {
  const points: Vector3[] = [];
  eachPoint(ends, (x, y, z) => points.push(new Vector3(x, y, z)));
  return points.flatMap((a, i) => {
    const b = points[i + 1];
    return i % 2 === 0 && b ? [[a, b] as const] : [];
  });
}

/** A metre along the boat on the sheet [px], as it is foreshortened. */
function metreOn(onto: Onto, boat: Matrix4): number {
  const [a, b] = [new Vector3(), new Vector3(1, 0, 0)].map((p) => onto(p.applyMatrix4(boat)));
  return a && b ? Math.max(8, Math.hypot(b[0] - a[0], b[1] - a[1])) : 8;
}

function seaOn({ afloat, pieces }: ViewParts, onto: Onto): SheetSea | undefined {
  const { seaShape } = afloat;
  if (!seaShape) return undefined;
  const { middle, half, holes, onBoat } = seaShape;
  const placed = (x: number, z: number) =>
    onto(new Vector3(x, 0, z).applyMatrix4(onBoat).applyMatrix4(afloat.boat.matrix));
  const [x, z] = middle;
  const [c, a, b] = [placed(x, z), placed(x + half[0], z), placed(x, z + half[1])];
  const rim = Array.from({ length: RIM_POINTS }, (_, i) => {
    const turn = (2 * Math.PI * i) / RIM_POINTS;
    return placed(x + half[0] * Math.cos(turn), z + half[1] * Math.sin(turn));
  });
  return {
    colour: pieces.palette.sea,
    middle: c,
    axes: [
      [a[0] - c[0], a[1] - c[1]],
      [b[0] - c[0], b[1] - c[1]],
    ],
    outlines: [rim, ...holes.map((loop) => loop.map(([u, v]) => placed(u, v)))],
  };
}
