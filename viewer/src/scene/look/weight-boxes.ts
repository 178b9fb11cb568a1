/** Weights inside the boat as boxes as large as they are heavy; what comes off is dashed. */
import { BoxGeometry, EdgesGeometry, Group, Mesh, MeshLambertMaterial } from 'three';
import type { Point } from '../../shared/boat/points.ts';
import { hatchingOf } from '../../shared/shapes/hatching.ts';
import { cornersOf } from './geometry.ts';
import { Stroke } from './strokes.ts';

export interface WeightInside {
  readonly kg: number;
  readonly at: Point;
  readonly colour: string;
  readonly isHatched: boolean;
  readonly isGone: boolean;
}

/** Of a box, so that it is seen: batteries and engines come near to it [kg/m³]. */
const DENSITY = 1600;
/** Length and height to the breadth. */
const SHAPE = [1.3, 0.8] as const;
const LEAST_KG = 4;
/** Lines of hatching to its breadth. */
const LINES = 4;

export class WeightBoxes {
  readonly group = new Group();
  strokes: readonly Stroke[] = [];
  /** Boxes of what is aboard. */
  solids: readonly Mesh<BoxGeometry, MeshLambertMaterial>[] = [];

  show(inside: readonly WeightInside[], edge: string): void {
    this.dispose();
    const made = inside.map(({ kg, at: [x, y, z], colour, isHatched, isGone }) => {
      const side = Math.cbrt(Math.max(LEAST_KG, kg) / DENSITY);
      const box = new BoxGeometry(side * SHAPE[0], side * SHAPE[1], side);
      const edges = new EdgesGeometry(box).getAttribute('position').array;
      const { array } = box.getAttribute('position');
      const hatching = isHatched ? hatchingOf(array, cornersOf(box), side / LINES) : [];
      const stroke = isGone
        ? new Stroke({ width: 1.1, dash: [0.05, 0.04], opacity: 0.6 }, edges)
        : new Stroke({ width: 1.1 }, [...edges, ...hatching]);
      stroke.ink(edge);
      const root = new Group().add(stroke.root);
      root.position.set(x, z, -y);
      this.group.add(root);
      if (isGone) return { stroke, solid: [] };
      const solid = new Mesh(box, new MeshLambertMaterial({ color: colour }));
      root.add(solid);
      return { stroke, solid: [solid] };
    });
    this.strokes = made.map(({ stroke }) => stroke);
    this.solids = made.flatMap(({ solid }) => solid);
  }

  dispose(): void {
    for (const { geometry, material } of this.solids) {
      geometry.dispose();
      material.dispose();
    }
    for (const one of this.strokes) one.dispose();
    this.group.clear();
  }
}
