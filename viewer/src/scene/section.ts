/** A flat cut through the boat: what lies before it is left out, its outline is drawn. */
import { type BufferGeometry, type Matrix4, Plane, Vector3 } from 'three';
import type { Point } from '../shared/boat/points.ts';
import { cut } from '../shared/shapes/cut.ts';
import { cornersOf } from './look/geometry.ts';
import { Stroke } from './look/strokes.ts';

/** A cut at a station, a waterline or a buttock [m], in the boat's frame. */
export interface Cut {
  readonly kind: CutKind;
  readonly at: number;
}

export type CutKind = 'station' | 'waterline' | 'buttock';

/** Square to each cut, in the scene's axes: X aft, Y up, Z to port. */
const NORMALS: Readonly<Record<CutKind, Point>> = {
  station: [1, 0, 0],
  waterline: [0, 1, 0],
  buttock: [0, 0, -1],
};
/** The outline stands this far off the cut [m], so that it is not cut away itself. */
const CLEAR = 2e-3;

export class Section {
  /** Strong as cut steel; without a cap, which would fill the shell of the hull. */
  readonly outline: Stroke;
  readonly plane = new Plane();
  readonly cut: Cut;

  constructor(made: Cut, surfaces: readonly BufferGeometry[]) {
    this.cut = made;
    const [x, y, z] = NORMALS[made.kind];
    const ends = surfaces.flatMap((surface) => {
      const positions = surface.getAttribute('position').array;
      return cut(positions, cornersOf(surface), (X, Y, Z) => x * X + y * Y + z * Z - made.at);
    });
    this.outline = new Stroke({ width: 2.2, nearer: 3e-4 }, ends);
  }

  /** How many straight pieces its outline has. */
  get pieces(): number {
    return this.outline.ends.length / 6;
  }

  /** Leaves out what lies on the side the eye is on; `direction` is towards the eye. */
  face(direction: readonly number[], boat: Matrix4): void {
    const normal = new Vector3(...NORMALS[this.cut.kind]);
    const seen = normal
      .clone()
      .transformDirection(boat)
      .dot(new Vector3(...direction));
    const before = seen > 0 ? -1 : 1;
    this.plane.set(normal.multiplyScalar(before), -before * this.cut.at + CLEAR);
    this.plane.applyMatrix4(boat);
  }

  paint(ink: string): void {
    this.outline.ink(ink);
  }

  dispose(): void {
    this.outline.dispose();
  }
}
