/** One thing that is drawn, coloured and picked as a whole: a hull, a part, what it replaces. */
import {
  Box3,
  BufferAttribute,
  BufferGeometry,
  DoubleSide,
  FrontSide,
  Group,
  LineBasicMaterial,
  LineDashedMaterial,
  LineSegments,
  Matrix4,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  type Object3D,
  Vector3,
} from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { mergeGeometries } from 'three/addons/utils/BufferGeometryUtils.js';
import { eachPoint } from './positions.ts';

/** What it is; `before` is the outline of what is not so any more, seen through all. */
export type MeshRole = 'hull' | 'appendage' | 'new' | 'replaced' | 'existing' | 'before';

/** Colours that follow the page, light or dark. */
export interface Palette {
  readonly hull: string;
  readonly existing: string;
  readonly ink: string;
  readonly touch: string;
  readonly water: string;
}

/** Until the page has told its colours. */
export const FIRST_PALETTE: Palette = {
  hull: '#ddd',
  existing: '#bbb',
  ink: '#222',
  touch: '#077',
  water: '#888',
};

/** What is lit: a plate, or of one that is cut in parts the triangles of a part. */
export interface Lit {
  readonly plate: string;
  /** Nine numbers a triangle, in the boat's frame [m]. */
  readonly share?: readonly number[] | undefined;
}

const loader = new GLTFLoader();

/** A piece in one mesh and one run of lines, with materials of its role, in the scene's axes. */
export class PartMesh {
  readonly id: string;
  readonly role: MeshRole;
  /** Path of its mesh, which names its content. */
  readonly mesh: string;
  readonly root = new Group();
  readonly surface: Mesh<BufferGeometry, MeshLambertMaterial>;
  private readonly fill: MeshLambertMaterial;
  private readonly edges: LineBasicMaterial;
  private readonly selectedEdges = new LineBasicMaterial();
  private readonly lines: LineSegments<BufferGeometry, LineBasicMaterial> | undefined;
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

  private constructor(id: string, role: MeshRole, mesh: string, read: Object3D) {
    this.id = id;
    this.role = role;
    this.mesh = mesh;
    this.fill = fillOf(role);
    this.edges = edgesOf(role);
    const faces = found(read, Mesh);
    const edges = found(read, LineSegments);
    const turn = read.children[0]?.matrixWorld ?? new Matrix4();
    this.plates = faces.map((one) => plateOf(one, turn));
    this.surface = new Mesh(joined(faces, turn), this.fill);
    this.surface.renderOrder = isHull(role) ? 1 : 0;
    this.root.add(this.surface);
    if (edges.length === 0) return;
    this.lines = new LineSegments(apart(joined(edges, turn)), this.edges);
    if (isGone(role)) this.lines.computeLineDistances();
    if (role === 'before') this.lines.renderOrder = 2;
    this.root.add(this.lines);
  }

  /** A piece read from a GLB. */
  static async of(id: string, role: MeshRole, mesh: string, glb: ArrayBuffer): Promise<PartMesh> {
    const { scene } = await loader.parseAsync(glb, '');
    scene.updateMatrixWorld(true);
    return new PartMesh(id, role, mesh, scene);
  }

  /** Colours it: new steel on its plates, replaced steel on its edges, the hull not at all. */
  paint(colour: string | undefined, palette: Palette): void {
    this.colour = colour;
    const resting = isHull(this.role) ? palette.hull : palette.existing;
    this.fill.color.set(this.role === 'new' ? (colour ?? resting) : resting);
    this.edges.color.set(this.role === 'replaced' ? (colour ?? palette.ink) : palette.ink);
    this.selectedEdges.color.set(palette.touch);
  }

  select(selected: boolean): void {
    if (this.selected === selected || isGone(this.role)) return;
    this.selected = selected;
    if (this.lines) this.lines.material = selected ? this.selectedEdges : this.edges;
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

  /** The middle of it, or of one of its plates, in the scene's axes. */
  middle(plate?: string): readonly number[] {
    const box = this.plates.find((one) => one.id === plate)?.box ?? boxOf(this.surface);
    return box.getCenter(new Vector3()).toArray();
  }

  /** Where its drawn edges begin and end, in the scene. */
  corners(): readonly Vector3[] {
    const ends = this.lines?.geometry.getAttribute('position');
    if (!ends) return [];
    return Array.from({ length: ends.count }, (_, i) =>
      this.root.localToWorld(new Vector3().fromBufferAttribute(ends, i)),
    );
  }

  box(): Box3 {
    this.root.updateWorldMatrix(true, true); // she may have been heeled since she was last drawn
    return new Box3().setFromObject(this.root);
  }

  /** What it is, as plain data. */
  describe() {
    const box = this.box();
    return {
      id: this.id,
      role: this.role,
      colour: this.colour ?? null,
      selected: this.selected,
      mesh: this.mesh,
      plates: this.plates.length,
      lit: this.lit ? inNumbers(boxOf(this.lit)) : null,
      ...inNumbers(box),
    };
  }

  dispose(): void {
    this.root.removeFromParent();
    this.lit?.geometry.dispose();
    this.glow.dispose();
    this.surface.geometry.dispose();
    this.lines?.geometry.dispose();
    for (const one of [this.fill, this.edges, this.selectedEdges]) one.dispose();
  }
}

/** Around what is drawn, in its own axes. */
export function boxOf({ geometry }: { readonly geometry: BufferGeometry }): Box3 {
  if (!geometry.boundingBox) geometry.computeBoundingBox();
  return geometry.boundingBox ?? new Box3();
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

const isGone = (role: MeshRole) => role === 'replaced' || role === 'before';
export const isHull = (role: MeshRole) => role === 'hull' || role === 'appendage';

function fillOf(role: MeshRole): MeshLambertMaterial {
  const offset = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
  if (isHull(role)) {
    const seeThrough = { transparent: true, opacity: 0.42, depthWrite: false };
    return new MeshLambertMaterial({ ...offset, ...seeThrough, side: FrontSide });
  }
  const material = new MeshLambertMaterial({ ...offset, side: DoubleSide, flatShading: true });
  material.visible = !isGone(role);
  return material;
}

function edgesOf(role: MeshRole): LineBasicMaterial {
  if (isGone(role)) {
    const seenThrough = role === 'before' ? { depthTest: false } : {};
    return new LineDashedMaterial({ dashSize: 0.09, gapSize: 0.06, ...seenThrough });
  }
  return new LineBasicMaterial({ transparent: true, opacity: isHull(role) ? 0.45 : 0.75 });
}

interface Found {
  readonly id: string;
  readonly geometry: BufferGeometry;
}

/** What was read, with the id it carries, as it lies in the file; its materials go. */
function found(read: Object3D, kind: typeof Mesh | typeof LineSegments): Found[] {
  const all: Found[] = [];
  read.traverse((node) => {
    if (!(node instanceof kind)) return;
    const id = String(node.userData.id ?? node.parent?.userData.id ?? '');
    all.push({ id, geometry: node.geometry });
    for (const one of [node.material].flat()) one.dispose();
  });
  return all;
}

interface Plate {
  readonly id: string;
  readonly faces: number;
  readonly box: Box3;
}

function plateOf({ id, geometry }: Found, turn: Matrix4): Plate {
  const corners = geometry.index?.count ?? geometry.getAttribute('position').count;
  geometry.computeBoundingBox();
  const box = geometry.boundingBox?.clone() ?? new Box3();
  return { id, faces: corners / 3, box: box.applyMatrix4(turn) };
}

/** One geometry of several, in the scene's axes; faces and edges of a plate share their places. */
function joined(parts: readonly Found[], turn: Matrix4): BufferGeometry {
  return mergeGeometries(parts.map((one) => one.geometry)).applyMatrix4(turn);
}

/** The same with the ends of every line by themselves, so that lines can be dashed. */
function apart(lines: BufferGeometry): BufferGeometry {
  return lines.index ? lines.toNonIndexed() : lines;
}
