/** The water as she floats and as she floated: a sea, or its edge alone, and its line on her. */
import { type BufferGeometry, Group, type Matrix4, Vector3 } from 'three';
import { directionsOf, type Level } from '../../shared/boat/level.ts';
import { loopsOf } from '../../shared/shapes/chains.ts';
import { cut, type Height } from '../../shared/shapes/cut.ts';
import { eachPoint } from '../../shared/shapes/positions.ts';
import { toTheLevel } from '../placing.ts';
import { cornersOf } from './geometry.ts';
import type { Palette } from './palette.ts';
import { type Extent, holesOf, Sea } from './sea.ts';
import { Stroke } from './strokes.ts';

const NOW = { width: 1.5, opacity: 0.85, nearer: 3e-4 };
const FORMER = { width: 1.5, dash: [0.13, 0.1], nearer: 3.6e-4, order: 7 } as const;
/** Keeps the former line in sight on light paint and on dark. */
const HALO = { width: 3.4, nearer: 3.4e-4, opacity: 0.55, order: 6 };

/** The length of a boat that dashes are meant for [m]. */
const USUAL_M = 10;

/** A surface of the hull or of an appendage. */
interface Wetted {
  readonly geometry: BufferGeometry;
  readonly isHull: boolean;
}

/** The water of one stage: the present one is a sea, the former one a dashed line alone. */
export class Water {
  readonly group = new Group();
  readonly strokes: readonly Stroke[];
  private readonly sea: Sea | undefined;
  private readonly line: Stroke;
  private readonly halo: Stroke | undefined;
  /** The sea seen edge on. */
  private readonly edge: Stroke;

  constructor(isPresent: boolean) {
    this.line = new Stroke(isPresent ? NOW : FORMER);
    this.halo = isPresent ? undefined : new Stroke(HALO);
    this.edge = new Stroke({
      width: isPresent ? 1.2 : 1,
      opacity: 0.5,
      ...(isPresent ? {} : { dash: [0.16, 0.12] as const }),
    });
    this.strokes = [this.line, this.edge, ...(this.halo ? [this.halo] : [])];
    this.group.add(...this.strokes.map(({ root }) => root));
    if (!isPresent) return;
    this.sea = new Sea();
    this.group.add(this.sea.root);
  }

  paint(palette: Palette): void {
    this.sea?.paint(palette);
    this.line.ink(this.sea ? palette.ink : palette.formerLine);
    this.halo?.ink(palette.formerHalo);
    this.edge.ink(palette.ink);
  }

  /** Lays the water on the boat, in her own axes, and draws its line on what it wets. */
  lie(level: Level, length: number, extent: Extent, wetted: readonly Wetted[]): void {
    const { up } = directionsOf(level);
    const height: Height = (x, y, z) => up[0] * x - up[1] * z + up[2] * y - level.offset;
    const onHull: number[] = [];
    const ends: number[] = [];
    for (const { geometry, isHull } of wetted) {
      const made = cut(geometry.getAttribute('position').array, cornersOf(geometry), height);
      ends.push(...made);
      if (isHull) onHull.push(...made);
    }
    this.line.redraw(ends, length / USUAL_M);
    this.halo?.redraw(ends);
    const level3 = toTheLevel(level, length);
    const onBoat = level3.clone().invert();
    this.edge.redraw(
      [extent.x0, extent.x1].flatMap((x) => new Vector3(x, 0, 0).applyMatrix4(onBoat).toArray()),
    );
    this.sea?.lie(onBoat, extent, holesOf(loopsOf(alongTheLevel(onHull, level3))));
  }

  get seaShape() {
    return this.sea?.shape;
  }

  /** Seen edge on, the sea is a line. */
  set isEdgeOn(is: boolean) {
    this.edge.root.visible = is;
  }

  set hasShadow(is: boolean) {
    if (this.sea) this.sea.hasShadow = is;
  }

  dispose(): void {
    for (const one of this.strokes) one.dispose();
    this.sea?.dispose();
  }
}

/** Segments in the water's plane, (x, z) after (x, z). */
function alongTheLevel(ends: readonly number[], level: Matrix4): readonly number[] {
  const flat: number[] = [];
  const point = new Vector3();
  eachPoint(ends, (x, y, z) => {
    point.set(x, y, z).applyMatrix4(level);
    flat.push(point.x, point.z);
  });
  return flat;
}
