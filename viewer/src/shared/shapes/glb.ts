/**
 * A GLB of the server as it is drawn: faces plate by plate, panes, and runs of edges. It holds no
 * more than `present/gltf.py` writes, so it is read here: a loader of all of glTF is as large as
 * all of `scene`.
 */
/** A plate, or a body that is drawn in one: how many faces it has, and where it is. */
interface DrawnPlate {
  readonly id: string;
  readonly faces: number;
  readonly positions: Float32Array;
}

/** Triangles, with normals where light runs smoothly over them. */
export interface Surface {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly corners: Uint32Array;
}

/** What was read, in the scene's axes. */
export interface ReadGlb {
  readonly plates: readonly DrawnPlate[];
  /** All plates, one after the other. */
  readonly surface: Surface;
  readonly panes: Surface | undefined;
  /** Ends of the edges of plates and bodies, and of bars and tubes. */
  readonly edges: Float32Array;
  readonly bars: Float32Array;
}

interface Gltf {
  readonly nodes: readonly {
    readonly mesh?: number;
    readonly extras?: { readonly id?: string; readonly kind?: string };
  }[];
  readonly meshes: readonly { readonly primitives: readonly Primitive[] }[];
  readonly materials?: readonly { readonly name?: string }[];
  readonly accessors: readonly {
    readonly bufferView: number;
    readonly byteOffset?: number;
    readonly componentType: number;
    readonly count: number;
  }[];
  readonly bufferViews: readonly { readonly byteOffset?: number }[];
}

interface Primitive {
  readonly attributes: { readonly POSITION: number; readonly NORMAL?: number };
  readonly indices?: number;
  readonly material?: number;
  /** Triangles where it is not given. */
  readonly mode?: number;
}

const LINES = 1;
const SHORT = 5123;
const HEADER = 12;
const CHUNK_HEADER = 8;

/** Vectors and indices of a file, by the number of their accessor. */
class Accessors {
  private readonly gltf: Gltf;
  private readonly glb: ArrayBuffer;
  private readonly blob: number;

  constructor(gltf: Gltf, glb: ArrayBuffer, blob: number) {
    this.gltf = gltf;
    this.glb = glb;
    this.blob = blob;
  }

  /** PrimitiveIn the boat's axes (x, y, z) to the scene's (X, Y, Z) = (x, z, -y). */
  vectors(index: number | undefined): Float32Array {
    const { start, count } = this.at(index);
    const read = new Float32Array(this.glb, start, 3 * count);
    const turned = new Float32Array(3 * count);
    for (let i = 0; i < turned.length; i += 3) {
      turned[i] = read[i] ?? 0;
      turned[i + 1] = read[i + 2] ?? 0;
      turned[i + 2] = -(read[i + 1] ?? 0);
    }
    return turned;
  }

  indices(index: number): Uint16Array | Uint32Array {
    const { start, count, isShort } = this.at(index);
    return isShort
      ? new Uint16Array(this.glb, start, count)
      : new Uint32Array(this.glb, start, count);
  }

  private at(index: number | undefined) {
    const accessor = index === undefined ? undefined : this.gltf.accessors[index];
    const view = accessor && this.gltf.bufferViews[accessor.bufferView];
    if (!(accessor && view)) return { start: this.blob, count: 0, isShort: true };
    const start = this.blob + (view.byteOffset ?? 0) + (accessor.byteOffset ?? 0);
    return { start, count: accessor.count, isShort: accessor.componentType === SHORT };
  }
}

/** Faces of one mesh, with normals where light runs smoothly over them. */
interface Faces {
  readonly id: string;
  readonly isGlass: boolean;
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly corners: ArrayLike<number>;
}

export function readGlb(glb: ArrayBuffer): ReadGlb {
  const length = new DataView(glb).getUint32(HEADER, true);
  const json = new Uint8Array(glb, HEADER + CHUNK_HEADER, length);
  const gltf: Gltf = JSON.parse(new TextDecoder().decode(json));
  const accessors = new Accessors(gltf, glb, HEADER + 2 * CHUNK_HEADER + length);
  const read: GlbRuns = { faces: [], edges: [], bars: [] };
  for (const { mesh, extras } of gltf.nodes) {
    const primitives = mesh === undefined ? [] : (gltf.meshes[mesh]?.primitives ?? []);
    for (const one of primitives) add(read, one, { ...extras, gltf, accessors });
  }
  const opaque = read.faces.filter(({ isGlass }) => !isGlass);
  const glass = read.faces.filter(({ isGlass }) => isGlass);
  return {
    plates: opaque.map(({ id, positions, corners }) => {
      return { id, faces: corners.length / 3, positions };
    }),
    surface: joined(opaque),
    panes: glass.length > 0 ? joined(glass) : undefined,
    edges: Float32Array.from(read.edges),
    bars: Float32Array.from(read.bars),
  };
}

interface GlbRuns {
  readonly faces: Faces[];
  readonly edges: number[];
  readonly bars: number[];
}

function add({ faces, edges, bars }: GlbRuns, one: Primitive, from: PrimitiveIn): void {
  const isBar = from.kind === 'flat_bar' || from.kind === 'tube';
  if (one.mode === LINES) addEnds(isBar ? bars : edges, one, from.accessors);
  else faces.push(facesOf(one, from));
}

interface PrimitiveIn {
  readonly id?: string;
  readonly kind?: string;
  readonly gltf: Gltf;
  readonly accessors: Accessors;
}

function facesOf(
  { attributes, indices, material }: Primitive,
  { id = '', gltf, accessors }: PrimitiveIn,
): Faces {
  const positions = accessors.vectors(attributes.POSITION);
  return {
    id,
    isGlass: material !== undefined && gltf.materials?.[material]?.name === 'glass',
    positions,
    normals: accessors.vectors(attributes.NORMAL),
    corners:
      indices === undefined
        ? Array.from({ length: positions.length / 3 }, (_, i) => i)
        : accessors.indices(indices),
  };
}

/** Adds the ends of every line by themselves, so that lines can be dashed. */
function addEnds(into: number[], { attributes, indices }: Primitive, accessors: Accessors): void {
  const positions = accessors.vectors(attributes.POSITION);
  if (indices === undefined) {
    for (const one of positions) into.push(one);
    return;
  }
  for (const corner of accessors.indices(indices))
    for (let k = 3 * corner; k < 3 * corner + 3; k += 1) into.push(positions[k] ?? 0);
}

/** One surface of several. */
function joined(parts: readonly Faces[]): Surface {
  const positions = new Float32Array(parts.reduce((sum, one) => sum + one.positions.length, 0));
  const normals = new Float32Array(parts.reduce((sum, one) => sum + one.normals.length, 0));
  const corners = new Uint32Array(parts.reduce((sum, one) => sum + one.corners.length, 0));
  let [place, normal, corner] = [0, 0, 0];
  for (const one of parts) {
    for (let i = 0; i < one.corners.length; i += 1)
      corners[corner + i] = (one.corners[i] ?? 0) + place / 3;
    positions.set(one.positions, place);
    normals.set(one.normals, normal);
    place += one.positions.length;
    normal += one.normals.length;
    corner += one.corners.length;
  }
  return { positions, normals, corners };
}
