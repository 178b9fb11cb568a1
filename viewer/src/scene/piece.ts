/** One thing that is drawn, coloured and picked as a whole: a hull, a part, what it replaces. */
import {
  Box3,
  BufferGeometry,
  DoubleSide,
  FrontSide,
  LineBasicMaterial,
  LineDashedMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  type Material,
  type Object3D,
} from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';

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

/** The meshes of a piece with materials of its role; edges come drawn in the file. */
export class Piece {
  readonly id: string;
  readonly role: Role;
  /** Path of its mesh, which names its content. */
  readonly mesh: string;
  readonly root: Object3D;
  private readonly fill: MeshLambertMaterial;
  private readonly edges: LineBasicMaterial;
  private readonly selectedEdges: LineBasicMaterial;
  readonly surfaces: readonly Mesh[];
  private readonly lines: readonly LineSegments[];
  private colour: string | undefined;
  private selected = false;

  private constructor(id: string, role: Role, mesh: string, root: Object3D) {
    this.id = id;
    this.role = role;
    this.mesh = mesh;
    this.root = root;
    const surfaces: Mesh[] = [];
    const lines: LineSegments[] = [];
    root.traverse((node) => {
      if (node instanceof Mesh) surfaces.push(node);
      else if (node instanceof LineSegments) lines.push(node);
    });
    this.fill = fillOf(role);
    this.edges = edgesOf(role);
    this.selectedEdges = new LineBasicMaterial();
    for (const one of surfaces) {
      dispose(one.material);
      one.material = this.fill;
      one.userData.piece = id;
      one.renderOrder = isHull(role) ? 1 : 0;
    }
    for (const one of lines) {
      dispose(one.material);
      one.material = this.edges;
      if (role === 'replaced') one.computeLineDistances();
    }
    this.surfaces = surfaces;
    this.lines = lines;
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
    for (const one of this.lines) one.material = selected ? this.selectedEdges : this.edges;
  }

  /** Its surfaces with their places in the scene worked in. */
  placed(): readonly BufferGeometry[] {
    return this.surfaces.map((one) => one.geometry.clone().applyMatrix4(one.matrixWorld));
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
      plates: this.surfaces.length,
      min: box.min.toArray().map(round),
      max: box.max.toArray().map(round),
    };
  }

  dispose(): void {
    this.root.removeFromParent();
    for (const one of [...this.surfaces, ...this.lines]) one.geometry.dispose();
    dispose([this.fill, this.edges, this.selectedEdges]);
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

function dispose(material: Material | Material[]): void {
  for (const one of Array.isArray(material) ? material : [material]) one.dispose();
}
