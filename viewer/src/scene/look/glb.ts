/** A GLB as it is drawn: faces plate by plate, panes, and runs of edges. */
import { type Box3, BufferGeometry, LineSegments, Matrix4, Mesh, type Object3D } from 'three';
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js';
import { mergeGeometries } from 'three/addons/utils/BufferGeometryUtils.js';
import { boxOf } from './box.ts';

/** A plate, or a body that is drawn in one: how many faces it has, and where it is. */
export interface DrawnPlate {
  readonly id: string;
  readonly faces: number;
  readonly box: Box3;
}

/** What was read, in the scene's axes. */
export interface ReadGlb {
  readonly plates: readonly DrawnPlate[];
  /** All plates, one after the other. */
  readonly surface: BufferGeometry;
  readonly panes: BufferGeometry | undefined;
  /** Ends of the edges of plates and bodies, and of bars and tubes. */
  readonly edges: Float32Array;
  readonly bars: Float32Array;
}

interface Found {
  readonly id: string;
  readonly isBar: boolean;
  readonly isGlass: boolean;
  readonly geometry: BufferGeometry;
}

const loader = new GLTFLoader();

export async function readGlb(glb: ArrayBuffer): Promise<ReadGlb> {
  const { scene } = await loader.parseAsync(glb, '');
  scene.updateMatrixWorld(true);
  const turn = scene.children[0]?.matrixWorld ?? new Matrix4();
  const faces = found(scene, Mesh);
  const lines = found(scene, LineSegments);
  const opaque = faces.filter(({ isGlass }) => !isGlass);
  const glass = faces.filter(({ isGlass }) => isGlass);
  return {
    plates: opaque.map((one) => plateOf(one, turn)),
    surface: joined(opaque, turn),
    panes: glass.length > 0 ? joined(glass, turn) : undefined,
    edges: endsOf(
      lines.filter(({ isBar }) => !isBar),
      turn,
    ),
    bars: endsOf(
      lines.filter(({ isBar }) => isBar),
      turn,
    ),
  };
}

/** What was read, with the id it carries, as it lies in the file; its materials go. */
function found(read: Object3D, kind: typeof Mesh | typeof LineSegments): Found[] {
  const all: Found[] = [];
  read.traverse((node) => {
    if (!(node instanceof kind)) return;
    const carried = (key: string) => String(node.userData[key] ?? node.parent?.userData[key] ?? '');
    const materials = [node.material].flat();
    all.push({
      id: carried('id'),
      isBar: carried('kind') === 'flat_bar' || carried('kind') === 'tube',
      isGlass: materials.some(({ name }) => name === 'glass'),
      geometry: node.geometry,
    });
    for (const one of materials) one.dispose();
  });
  return all;
}

function plateOf({ id, geometry }: Found, turn: Matrix4): DrawnPlate {
  const corners = geometry.index?.count ?? geometry.getAttribute('position').count;
  return { id, faces: corners / 3, box: boxOf({ geometry }).clone().applyMatrix4(turn) };
}

/** One geometry of several, in the scene's axes; faces and edges of a plate share their places. */
const joined = (parts: readonly Found[], turn: Matrix4): BufferGeometry =>
  parts.length > 0
    ? mergeGeometries(parts.map((one) => one.geometry)).applyMatrix4(turn)
    : new BufferGeometry();

/** The ends of every line by themselves, so that lines can be dashed. */
function endsOf(lines: readonly Found[], turn: Matrix4): Float32Array {
  if (lines.length === 0) return new Float32Array();
  const whole = joined(lines, turn);
  const apart = whole.index ? whole.toNonIndexed() : whole;
  return Float32Array.from(apart.getAttribute('position').array);
}
