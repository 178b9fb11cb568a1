/** Still pictures of the view as it stands: as pixels, and as lines and faces. */
import { type Matrix4, type OrthographicCamera, Vector3 } from 'three';
import type { Deep } from '../../shared/shapes/depth-buffer.ts';
import { eachPoint } from '../../shared/shapes/positions.ts';
import { type SheetSea, type SheetStroke, svgOf } from '../../shared/shapes/svg.ts';
import type { Stroke } from '../look/strokes.ts';
import type { Stage } from '../stage.ts';
import { facesOf, heightOver } from './faces.ts';
import type { StillOrder } from './order.ts';
import { pngOf } from './png.ts';

const BROAD = { shadows: true, broad: true };
/** Faces of what is seen through, in lines and faces. */
const THROUGH = { hull: 0.03, steel: 0.2, weight: 0.8 } as const;
/** Lines may lie so little before a cut [m]. */
const ON_CUT = 3e-3;
const RIM_POINTS = 64;

/** PNG, whatever is drawn on the page meanwhile. */
export function pngStill(stage: Stage, order: StillOrder): Promise<Blob> {
  const { width, height } = sizeOf(stage, order);
  const { canvas, camera, drawing, pieces } = stage.parts;
  const { caption = '', paper, palette = pieces.palette } = order;
  const studio = {
    ...drawing.studio,
    camera: camera.forSheet(width, height),
    prepare: () => {
      stage.dress(palette);
      stage.prepare(BROAD, width / canvas.clientWidth);
    },
    restore: () => stage.dress(pieces.palette),
    signal: order.signal,
  };
  return pngOf(studio, { width, height, caption, paper, ink: palette.ink });
}

/** SVG, what is hidden left out. */
export function svgStill(stage: Stage, order: StillOrder): string {
  const { canvas, pieces } = stage.parts;
  const { palette = pieces.palette } = order;
  stage.dress(palette);
  stage.prepare(BROAD);
  const size = sizeOf(stage, order);
  const pen = size.width / canvas.clientWidth;
  const drawn = svgOf({ ...order, ...sheetOf(stage, size, pen), ink: palette.ink });
  stage.dress(pieces.palette);
  return drawn;
}

function sheetOf(stage: Stage, { width, height }: SheetSize, pen: number) {
  const camera = stage.parts.camera.forSheet(width, height);
  const onto = projection(camera, width, height);
  const { isThrough } = stage.parts.pieces;
  const faces = facesOf(stage, camera).map(({ polygon, fill, isUnder, of }) => {
    return { corners: polygon.map(onto), fill, isUnder, opacity: isThrough ? THROUGH[of] : 1 };
  });
  const strokes = stage.strokes.map((one) => strokeOn(one, stage, { onto, pen }));
  const isFromBelow = camera.getWorldDirection(new Vector3()).y > 0;
  return { width, height, isThrough, faces, strokes, isFromBelow, sea: seaOn(stage, onto) };
}

interface SheetSize {
  readonly width: number;
  readonly height: number;
}

function sizeOf({ parts }: Stage, { width, height }: StillOrder): SheetSize {
  const { clientWidth: w, clientHeight: h } = parts.canvas;
  return { width, height: height ?? Math.round((width * h) / w) };
}

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

function strokeOn(stroke: Stroke, stage: Stage, { onto, pen }: Pen): SheetStroke {
  const { look, dash, inkColour: ink } = stroke;
  const { boat } = stage.parts.afloat;
  const lines = stroke.isShown ? linesOn(stroke, stage) : [];
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
function linesOn(stroke: Stroke, { parts: { afloat }, section }: Stage) {
  const height = afloat.waters ? heightOver(afloat.shown.now) : () => 1;
  const boat = afloat.boat.matrix;
  stroke.root.updateWorldMatrix(true, false);
  const onBoat = boat.clone().invert().multiply(stroke.root.matrixWorld);
  return pairsOf(stroke.ends).flatMap(([a, b]) => {
    const isUnder = height(a.applyMatrix4(onBoat)) + height(b.applyMatrix4(onBoat)) < -2e-3;
    const [from, to] = [a.applyMatrix4(boat), b.applyMatrix4(boat)];
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

function seaOn({ parts: { afloat } }: Stage, onto: Onto): SheetSea | undefined {
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
    colour: seaShape.colour,
    middle: c,
    axes: [
      [a[0] - c[0], a[1] - c[1]],
      [b[0] - c[0], b[1] - c[1]],
    ],
    outlines: [rim, ...holes.map((loop) => loop.map(([u, v]) => placed(u, v)))],
  };
}
