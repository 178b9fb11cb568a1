/** A flat cut through the boat: what lies before it is left out, its outline is drawn. */
import {
  BufferGeometry,
  Float32BufferAttribute,
  LineBasicMaterial,
  LineSegments,
  type Matrix4,
  Plane,
  Vector3,
} from 'three';
import type { Point } from '../shared/boat/points.ts';
import { cut } from './cut.ts';
import { cornersOf } from './look/corners.ts';

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
  readonly outline = new LineSegments(new BufferGeometry(), new LineBasicMaterial());
  readonly plane = new Plane();
  readonly cut: Cut;

  constructor(made: Cut, surfaces: readonly BufferGeometry[]) {
    this.cut = made;
    const [x, y, z] = NORMALS[made.kind];
    const ends = surfaces.flatMap((surface) => {
      const positions = surface.getAttribute('position').array;
      return cut(positions, cornersOf(surface), (X, Y, Z) => x * X + y * Y + z * Z - made.at);
    });
    this.outline.geometry.setAttribute('position', new Float32BufferAttribute(ends, 3));
    this.outline.renderOrder = 3;
  }

  /** How many straight pieces its outline has. */
  get pieces(): number {
    return this.outline.geometry.getAttribute('position').count / 2;
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
    this.outline.material.color.set(ink);
  }

  dispose(): void {
    this.outline.removeFromParent();
    this.outline.geometry.dispose();
    this.outline.material.dispose();
  }
}
