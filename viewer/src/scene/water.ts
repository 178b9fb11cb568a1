/** The water as she floats and as she floated: a plane, its rim, and its line on the hull. */
import {
  BufferGeometry,
  DoubleSide,
  Float32BufferAttribute,
  Group,
  LineBasicMaterial,
  LineDashedMaterial,
  LineLoop,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  Vector3,
} from 'three';
import { directionsOf, type Level } from '../shared/boat/level.ts';
import { cut, type Height } from './cut.ts';
import { toTheLevel } from './placing.ts';

/** Along and across, what the plane covers [m]. */
interface Extent {
  readonly x0: number;
  readonly x1: number;
  readonly halfBreadth: number;
}

/** The water of one stage; the boat stays still, the water moves. */
export class Water {
  readonly group = new Group();
  private readonly present: boolean;
  private readonly plane: Mesh<BufferGeometry, MeshBasicMaterial> | undefined;
  private readonly rim: LineLoop<BufferGeometry, LineBasicMaterial>;
  private readonly line: LineSegments<BufferGeometry, LineBasicMaterial>;
  private height: Height = () => 1;

  /** The present water is a plane with a full line, the former one a dashed line. */
  constructor(present: boolean) {
    this.present = present;
    const lines = (): LineBasicMaterial =>
      present
        ? new LineBasicMaterial({ transparent: true })
        : new LineDashedMaterial({
            dashSize: 0.12,
            gapSize: 0.09,
            transparent: true,
            opacity: 0.8,
          });
    this.rim = new LineLoop(new BufferGeometry(), lines());
    this.line = new LineSegments(new BufferGeometry(), lines());
    this.group.add(this.rim, this.line);
    if (!present) return;
    this.plane = new Mesh(
      new BufferGeometry(),
      new MeshBasicMaterial({
        transparent: true,
        opacity: 0.2,
        depthWrite: false,
        side: DoubleSide,
      }),
    );
    this.plane.renderOrder = 2;
    this.group.add(this.plane);
  }

  paint(plane: string, line: string): void {
    this.plane?.material.color.set(plane);
    this.rim.material.color.set(line);
    this.rim.material.opacity = this.present ? 0.5 : 0.4;
    this.rim.material.transparent = true;
    this.line.material.color.set(line);
  }

  /** Lays the water on the boat, in her own axes. */
  lie(level: Level, length: number, extent: Extent): void {
    const { up } = directionsOf(level);
    this.height = (x, y, z) => up[0] * x - up[1] * z + up[2] * y - level.offset;
    const { x0, x1, halfBreadth: b } = extent;
    const onBoat = toTheLevel(level, length).invert();
    const positions = [
      [x0, b],
      [x1, b],
      [x1, -b],
      [x0, -b],
    ].flatMap(([x = 0, z = 0]) => new Vector3(x, 0, z).applyMatrix4(onBoat).toArray());
    replace(this.rim, positions);
    this.rim.computeLineDistances();
    if (!this.plane) return;
    replace(this.plane, positions);
    this.plane.geometry.setIndex([0, 1, 2, 0, 2, 3]);
  }

  /** Draws its line on surfaces given in the scene's axes. */
  mark(surfaces: readonly BufferGeometry[]): void {
    const ends = surfaces.flatMap((surface) => {
      const index = surface.getIndex();
      const positions = surface.getAttribute('position').array;
      const corners = index?.array ?? Array.from({ length: positions.length / 3 }, (_, i) => i);
      return cut(positions, corners, this.height);
    });
    replace(this.line, ends);
    this.line.computeLineDistances();
  }

  dispose(): void {
    for (const one of [this.rim, this.line, this.plane]) {
      one?.geometry.dispose();
      one?.material.dispose();
    }
  }
}

function replace(one: { geometry: BufferGeometry }, positions: readonly number[]): void {
  one.geometry.dispose();
  one.geometry = new BufferGeometry();
  one.geometry.setAttribute('position', new Float32BufferAttribute(positions, 3));
}
