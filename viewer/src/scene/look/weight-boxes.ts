/** Weights inside the boat as boxes as large as they are heavy; what comes off is dashed. */
import { BoxGeometry, EdgesGeometry, Group, Mesh, MeshLambertMaterial } from 'three';
import type { Point } from '../../shared/boat/points.ts';
import { Stroke } from './strokes.ts';

export interface WeightInside {
  readonly kg: number;
  readonly at: Point;
  readonly colour: string;
  readonly isGone: boolean;
}

/** Of a box, so that it is seen: batteries and engines come near to it [kg/m³]. */
const DENSITY = 1600;
/** Length and height to the breadth. */
const SHAPE = [1.3, 0.8] as const;
const LEAST_KG = 4;

export class WeightBoxes {
  readonly group = new Group();
  strokes: readonly Stroke[] = [];

  show(inside: readonly WeightInside[], edge: string): void {
    this.dispose();
    this.strokes = inside.map(({ kg, at: [x, y, z], colour, isGone }) => {
      const side = Math.cbrt(Math.max(LEAST_KG, kg) / DENSITY);
      const box = new BoxGeometry(side * SHAPE[0], side * SHAPE[1], side);
      const edges = new EdgesGeometry(box);
      const gone = { dash: [0.05, 0.04] as const, opacity: 0.6 };
      const stroke = new Stroke(
        { width: 1.1, ...(isGone ? gone : {}) },
        edges.getAttribute('position').array,
      );
      edges.dispose();
      stroke.ink(edge);
      const root = new Group();
      root.position.set(x, z, -y);
      root.add(stroke.root);
      if (isGone) box.dispose();
      else root.add(new Mesh(box, new MeshLambertMaterial({ color: colour })));
      this.group.add(root);
      return stroke;
    });
  }

  /** Boxes of what is aboard. */
  get solids(): readonly Mesh<BoxGeometry, MeshLambertMaterial>[] {
    const solids: Mesh<BoxGeometry, MeshLambertMaterial>[] = [];
    this.group.traverse((one) => {
      if (isSolid(one)) solids.push(one);
    });
    return solids;
  }

  dispose(): void {
    for (const { geometry, material } of this.solids) {
      geometry.dispose();
      material.dispose();
    }
    for (const one of this.strokes) one.dispose();
    this.group.clear();
    this.strokes = [];
  }
}

const isSolid = (one: unknown): one is Mesh<BoxGeometry, MeshLambertMaterial> =>
  one instanceof Mesh && one.geometry instanceof BoxGeometry;
