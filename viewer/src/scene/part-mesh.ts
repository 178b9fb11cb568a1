/** One thing that is drawn, coloured and picked as a whole: a hull, a part, what it replaces. */
import {
  Box3,
  BufferAttribute,
  BufferGeometry,
  DoubleSide,
  FrontSide,
  Group,
  type Material,
  Mesh,
  MeshBasicMaterial,
  Vector3,
} from 'three';
import type { Point } from '../shared/boat/points.ts';
import { type ReadGlb, readGlb } from '../shared/shapes/glb.ts';
import { hatchingOf } from '../shared/shapes/hatching.ts';
import { edgesBetween, outlineOf } from '../shared/shapes/outline.ts';
import { eachPoint } from '../shared/shapes/positions.ts';
import type { Finish, Finishes } from './look/finishes.ts';
import { boxOf, cornersOf, geometryOf } from './look/geometry.ts';
import type { Palette } from './look/palette.ts';
import { isGone, isHull, type MeshRole } from './look/roles.ts';
import { Stroke, strokesOf, WEIGHTS } from './look/strokes.ts';

/** What is lit: a plate, or of one that is cut in parts the triangles of a part. */
export interface Lit {
  readonly plate: string;
  /** Nine numbers a triangle, in the boat's frame [m]. */
  readonly share?: readonly number[] | undefined;
}

interface Plate {
  readonly id: string;
  readonly faces: number;
  readonly box: Box3;
}

/** What a piece is coloured by: its colour, none where it is plain, and whether it is hatched. */
export interface Paint {
  readonly colour?: string | undefined;
  readonly isHatched?: boolean;
}

/** How much is seen of the hull and of steel where she is seen through, and of steel that goes. */
const XRAY = { hull: 0.2, steel: 0.45 } as const;
const GHOST = 0.1;

/** A piece in one mesh and runs of lines, with materials of its role, in the scene's axes. */
export class PartMesh {
  readonly id: string;
  readonly role: MeshRole;
  /** Path of its mesh, which names its content. */
  readonly mesh: string;
  readonly root = new Group();
  readonly surface: Mesh<BufferGeometry, Finish>;
  readonly panes: Mesh<BufferGeometry, Finish> | undefined;
  readonly strokes: readonly Stroke[];
  /** Where its drawn edges begin and end, in its own axes. */
  readonly edges: Float32Array;
  private readonly fill: Finish;
  private readonly shade: Material | undefined;
  private readonly outline: Stroke | undefined;
  private readonly hatching = new Stroke({ width: WEIGHTS.fine, opacity: 0.75 });
  private readonly between: ReturnType<typeof edgesBetween> | undefined;
  private readonly plates: readonly Plate[];
  private readonly glow = new MeshBasicMaterial({
    side: DoubleSide,
    // a share of a plate has corners of its own in the plate's faces
    polygonOffset: true,
    polygonOffsetFactor: -1,
    polygonOffsetUnits: -1,
  });
  private lit: Mesh<BufferGeometry, MeshBasicMaterial> | undefined;
  private colour: string | undefined;
  private selected = false;
  private isThrough = false;
  private palette: Palette | undefined;

  private constructor(
    { id, role, mesh }: Pick<PartMesh, 'id' | 'role' | 'mesh'>,
    read: ReadGlb,
    finishes: Finishes,
  ) {
    this.id = id;
    this.role = role;
    this.mesh = mesh;
    this.plates = read.plates.map(({ id, faces, positions }) => {
      return { id, faces, box: new Box3().setFromArray(positions) };
    });
    if (isHull(role)) [this.fill, this.shade] = finishes.hull();
    else this.fill = finishes.steel();
    this.surface = new Mesh(geometryOf(read.surface), this.fill);
    if (this.shade) this.surface.customDepthMaterial = this.shade;
    this.root.add(this.surface);
    if (read.panes && !isGone(role)) {
      this.panes = new Mesh(geometryOf(read.panes), finishes.glass());
      this.root.add(this.panes);
    }
    if (isHull(role)) {
      this.between = edgesBetween(read.surface);
      this.outline = new Stroke({ width: WEIGHTS.outline, nearer: 3e-4 });
    }
    this.edges = Float32Array.from([...read.edges, ...read.bars]);
    this.strokes = [
      ...strokesOf(role, read),
      this.hatching,
      ...(this.outline ? [this.outline] : []),
    ];
    this.root.add(...this.strokes.map((one) => one.root));
    this.through(false);
  }

  /** A piece read from a GLB. */
  static of(
    listed: Pick<PartMesh, 'id' | 'role' | 'mesh'>,
    glb: ArrayBuffer,
    finishes: Finishes,
  ): PartMesh {
    return new PartMesh(listed, readGlb(glb), finishes);
  }

  /** Colours it: new steel on its plates, replaced steel on its edges, the hull not at all. */
  paint({ colour, isHatched = false }: Paint, palette: Palette): void {
    this.hatching.root.visible = isHatched;
    const { geometry } = this.surface;
    if (isHatched && this.hatching.ends.length === 0)
      this.hatching.redraw(
        hatchingOf(geometry.getAttribute('position').array, cornersOf(geometry)),
      );
    this.colour = colour;
    this.palette = palette;
    this.fill.color.set(this.role === 'existing' ? palette.existing : (colour ?? palette.existing));
    this.panes?.material.color.set(palette.glass);
    this.ink();
  }

  select(selected: boolean): void {
    if (this.selected === selected || isGone(this.role)) return;
    this.selected = selected;
    this.ink();
  }

  /** Draws its outline as it is seen from `direction`, in its own axes. */
  face(direction: readonly number[]): void {
    if (this.outline && this.between) this.outline.redraw(outlineOf(this.between, direction));
  }

  /** Seen through, or opaque as painted; what is gone is a ghost in both. */
  through(on: boolean): void {
    this.isThrough = on;
    const clear = on || isGone(this.role);
    for (const { material } of this.filled) {
      const depthWrite = !clear;
      Object.assign(material, { transparent: clear, opacity: this.opacity, depthWrite });
      material.needsUpdate = true;
    }
    const seenThrough = on && isHull(this.role);
    this.fill.visible = this.role !== 'before';
    this.fill.side = seenThrough ? FrontSide : DoubleSide;
    this.surface.renderOrder = seenThrough ? 1 : 0;
    this.surface.castShadow = !clear;
    this.surface.receiveShadow = !isGone(this.role);
    this.ink();
  }

  private get opacity(): number {
    if (isGone(this.role)) return GHOST;
    if (!this.isThrough) return 1;
    return isHull(this.role) ? XRAY.hull : XRAY.steel;
  }

  /** What has faces. */
  get filled(): readonly Mesh<BufferGeometry, Finish>[] {
    return this.panes ? [this.surface, this.panes] : [this.surface];
  }

  private ink(): void {
    const { palette } = this;
    if (!palette) return;
    // what is seen through lies on the paper, which may be dark
    const edge = this.isThrough ? palette.ink : palette.edge;
    const resting = isGone(this.role) ? (this.colour ?? palette.ink) : edge;
    for (const one of this.strokes) one.ink(this.selected ? palette.touch : resting);
    this.outline?.ink(this.isThrough ? palette.ink : palette.outline);
  }

  /** The plate that a face of the surface belongs to; none where it is drawn in one. */
  plateAt(face: number): string | undefined {
    let ends = 0;
    const plate = this.plates.find((one) => {
      ends += one.faces;
      return face < ends;
    });
    return face < 0 || plate?.id === this.id ? undefined : plate?.id;
  }

  /** Lays a lit copy over one plate, or over a share of it; takes it away where it has none. */
  light(lit: Lit | undefined, colour: string): void {
    this.lit?.removeFromParent();
    this.lit?.geometry.dispose();
    this.lit = undefined;
    const geometry = lit && this.copied(lit);
    if (!geometry) return;
    this.glow.color.set(colour);
    this.lit = new Mesh(geometry, this.glow);
    this.root.add(this.lit);
  }

  /** What is lit, in the scene's axes. */
  private copied({ plate, share }: Lit): BufferGeometry | undefined {
    const lit = this.plates.find(({ id }) => id === plate);
    if (!lit) return undefined;
    const geometry = new BufferGeometry();
    if (share) {
      geometry.setAttribute('position', new BufferAttribute(turned(share), 3));
      geometry.computeBoundingBox();
      return geometry;
    }
    const before = this.plates.slice(0, this.plates.indexOf(lit));
    const start = before.reduce((sum, { faces }) => sum + faces, 0);
    geometry.attributes = this.surface.geometry.attributes;
    geometry.index = this.surface.geometry.index;
    geometry.setDrawRange(3 * start, 3 * lit.faces);
    geometry.boundingBox = lit.box;
    return geometry;
  }

  /** The middle of it, or of one of its plates, in the boat's frame. */
  middle(plate?: string): Point {
    const box = this.plates.find((one) => one.id === plate)?.box ?? boxOf(this.surface);
    const { x, y, z } = box.getCenter(new Vector3());
    return [x, -z, y];
  }

  /** Where its drawn edges begin and end, in the scene. */
  corners(): readonly Vector3[] {
    const ends: Vector3[] = [];
    eachPoint(this.edges, (x, y, z) => ends.push(this.root.localToWorld(new Vector3(x, y, z))));
    return ends;
  }

  box(): Box3 {
    this.root.updateWorldMatrix(true, false); // she may have been heeled since she was last drawn
    return boxOf(this.surface).clone().applyMatrix4(this.root.matrixWorld);
  }

  /** What it is, as plain data. */
  describe() {
    const box = this.box();
    return {
      id: this.id,
      role: this.role,
      colour: this.colour ?? null,
      isHatched: this.hatching.isShown,
      selected: this.selected,
      mesh: this.mesh,
      plates: this.plates.length,
      hasPanes: this.panes !== undefined,
      lit: this.lit ? inNumbers(boxOf(this.lit)) : null,
      ...inNumbers(box),
    };
  }

  dispose(): void {
    this.root.removeFromParent();
    this.lit?.geometry.dispose();
    this.glow.dispose();
    for (const { geometry, material } of this.filled) {
      geometry.dispose();
      material.dispose();
    }
    this.shade?.dispose();
    for (const one of this.strokes) one.dispose();
  }
}

/** Points from the boat's frame to the scene's axes. */
function turned(points: readonly number[]): Float32Array {
  const made: number[] = [];
  eachPoint(points, (x, y, z) => made.push(x, z, -y));
  return new Float32Array(made);
}

const toMillimetres = (v: number) => Math.round(v * 1000) / 1000;
const inNumbers = ({ min, max }: Box3) => ({
  min: min.toArray().map(toMillimetres),
  max: max.toArray().map(toMillimetres),
});
