/** One thing that is drawn, coloured and picked as a whole: a hull, a part, what it replaces. */
import {
  Box3,
  BufferGeometry,
  DoubleSide,
  FrontSide,
  Group,
  LineBasicMaterial,
  LineDashedMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  type Object3D,
} from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { mergeGeometries } from 'three/addons/utils/BufferGeometryUtils.js';

export type Role = 'hull' | 'appendage' | 'new' | 'replaced' | 'existing';

/** Colours that follow the page, light or dark. */
export interface Palette {
  readonly hull: string;
  readonly existing: string;
  readonly ink: string;
  readonly touch: string;
  readonly water: string;
}

const loader = new GLTFLoader();

/** A piece in one mesh and one run of lines, with materials of its role, in the scene's axes. */
export class Piece {
  readonly id: string;
  readonly role: Role;
  /** Path of its mesh, which names its content. */
  readonly mesh: string;
  readonly root = new Group();
  readonly surface: Mesh<BufferGeometry, MeshLambertMaterial>;
  private readonly fill: MeshLambertMaterial;
  private readonly edges: LineBasicMaterial;
  private readonly selectedEdges = new LineBasicMaterial();
  private readonly lines: LineSegments<BufferGeometry, LineBasicMaterial> | undefined;
  private readonly plates: number;
  private colour: string | undefined;
  private selected = false;

  private constructor(id: string, role: Role, mesh: string, read: Object3D) {
    this.id = id;
    this.role = role;
    this.mesh = mesh;
    this.fill = fillOf(role);
    this.edges = edgesOf(role);
    const faces = geometriesOf(read, Mesh);
    const edges = geometriesOf(read, LineSegments);
    this.plates = faces.length;
    this.surface = new Mesh(joined(faces), this.fill);
    this.surface.userData.piece = id;
    this.surface.renderOrder = isHull(role) ? 1 : 0;
    this.root.add(this.surface);
    if (edges.length === 0) return;
    this.lines = new LineSegments(joined(edges), this.edges);
    if (role === 'replaced') this.lines.computeLineDistances();
    this.root.add(this.lines);
  }

  /** A piece read from a GLB. */
  static async of(id: string, role: Role, mesh: string, glb: ArrayBuffer): Promise<Piece> {
    const { scene } = await loader.parseAsync(glb, '');
    scene.updateMatrixWorld(true);
    return new Piece(id, role, mesh, scene);
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
    if (this.selected === selected || this.role === 'replaced') return;
    this.selected = selected;
    if (this.lines) this.lines.material = selected ? this.selectedEdges : this.edges;
  }

  box(): Box3 {
    return new Box3().setFromObject(this.root);
  }

  /** What it is, as plain data. */
  describe() {
    const box = this.box();
    const round = (v: number) => Math.round(v * 1000) / 1000;
    return {
      id: this.id,
      role: this.role,
      colour: this.colour ?? null,
      selected: this.selected,
      mesh: this.mesh,
      plates: this.plates,
      min: box.min.toArray().map(round),
      max: box.max.toArray().map(round),
    };
  }

  dispose(): void {
    this.root.removeFromParent();
    this.surface.geometry.dispose();
    this.lines?.geometry.dispose();
    for (const one of [this.fill, this.edges, this.selectedEdges]) one.dispose();
  }
}

const isHull = (role: Role) => role === 'hull' || role === 'appendage';

function fillOf(role: Role): MeshLambertMaterial {
  const offset = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
  if (isHull(role)) {
    const seeThrough = { transparent: true, opacity: 0.42, depthWrite: false };
    return new MeshLambertMaterial({ ...offset, ...seeThrough, side: FrontSide });
  }
  const material = new MeshLambertMaterial({ ...offset, side: DoubleSide });
  material.visible = role !== 'replaced';
  return material;
}

function edgesOf(role: Role): LineBasicMaterial {
  if (role === 'replaced') return new LineDashedMaterial({ dashSize: 0.09, gapSize: 0.06 });
  return new LineBasicMaterial({ transparent: true, opacity: isHull(role) ? 0.45 : 0.75 });
}

/** The geometries of what was read, each where it lies in the scene; its materials go. */
function geometriesOf(
  read: Object3D,
  kind: typeof Mesh | typeof LineSegments,
): BufferGeometry[] {
  const found: BufferGeometry[] = [];
  read.traverse((node) => {
    if (!(node instanceof kind)) return;
    found.push(node.geometry.applyMatrix4(node.matrixWorld));
    for (const one of [node.material].flat()) one.dispose();
  });
  return found;
}

/** One geometry of several; the parts of it are disposed of. */
function joined(geometries: readonly BufferGeometry[]): BufferGeometry {
  const [first] = geometries;
  if (geometries.length === 1 && first) return first;
  const whole = mergeGeometries([...geometries]);
  for (const one of geometries) one.dispose();
  return whole;
}
