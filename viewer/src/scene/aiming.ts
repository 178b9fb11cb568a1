/** From points of the page to the boat, and back. */
import { Vector3 } from 'three';
import type { FlatPoint, Point } from '../shared/boat/points.ts';
import type { Afloat } from './afloat.ts';
import { Aim } from './aim.ts';
import type { Camera } from './camera.ts';
import type { Drawing } from './look/drawing.ts';
import type { Finishes } from './look/finishes.ts';
import type { Pieces } from './pieces.ts';

interface Aimed {
  readonly canvas: HTMLCanvasElement;
  readonly camera: Camera;
  readonly drawing: Drawing;
  readonly pieces: Pieces;
  readonly afloat: Afloat;
  readonly finishes: Finishes;
}

const CLOSER = 2;

export class Aiming {
  private readonly aimed: Aimed;

  constructor(aimed: Aimed) {
    this.aimed = aimed;
  }

  /** What lies under a point of the page. */
  at(clientX: number, clientY: number): Aim {
    const { left, top, width, height } = this.aimed.canvas.getBoundingClientRect();
    return this.through([((clientX - left) / width) * 2 - 1, 1 - ((clientY - top) / height) * 2]);
  }

  /** Whether a point of the boat is out of sight behind her, cut away, or not drawn yet. */
  hides(place: Point): boolean {
    if (this.aimed.pieces.all.length === 0) return true;
    const point = this.inScene(place);
    const { x, y } = point.clone().project(this.aimed.camera.orthographic);
    return this.through([x, y]).hides(point);
  }

  /** Where a point of the boat is on the canvas [px]. */
  spotOf(place: Point): FlatPoint {
    const { canvas, camera } = this.aimed;
    const { x, y } = this.inScene(place).project(camera.orthographic);
    return [((x + 1) / 2) * canvas.clientWidth, ((1 - y) / 2) * canvas.clientHeight];
  }

  /** Looks closer at what lies there; where nothing does, at all of her. */
  closer(clientX: number, clientY: number): void {
    const { camera } = this.aimed;
    const spot = this.at(clientX, clientY).spot();
    if (spot) camera.closer(this.inScene(spot.point), CLOSER);
    else camera.fitAll();
  }

  private through(spot: FlatPoint): Aim {
    const { camera, drawing, pieces, finishes } = this.aimed;
    const { orthographic, perMetre } = camera;
    const { openings } = finishes;
    const { all, isThrough } = pieces;
    const look = { camera: orthographic, perMetre, cuts: drawing.cuts, openings, isThrough };
    return new Aim(look, spot, all);
  }

  private inScene([x, y, z]: Point): Vector3 {
    return new Vector3(x, z, -y).applyMatrix4(this.aimed.afloat.boat.matrix);
  }
}
