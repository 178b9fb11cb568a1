/** The boat in three dimensions. No other file but those beside it knows the 3D library. */
import {
  Box3,
  DirectionalLight,
  HemisphereLight,
  OrthographicCamera,
  Raycaster,
  Scene,
  Spherical,
  Vector2,
  Vector3,
  WebGLRenderer,
} from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';
import { Pace } from './pace.ts';
import { followPointer, type Ends } from './pointer.ts';
import { Piece, type Palette, type Role } from './piece.ts';
import { Water, type Attitude } from './water.ts';

export type { Attitude, Palette, Role };

/** From where she is looked at. */
export type ViewName = 'profile' | 'plan' | 'body' | 'oblique';
export const VIEW_NAMES: readonly ViewName[] = ['oblique', 'profile', 'plan', 'body'];

/** Directions to the eye in the scene's axes: X aft, Y up, Z to port. */
const EYES: Readonly<Record<ViewName, readonly [number, number, number]>> = {
  oblique: [-0.5, 0.42, 0.75],
  profile: [0, 0, 1],
  plan: [0, 1, 1e-4],
  body: [1, 0, 0],
};

/** One piece as the server lists it. */
export interface Listed {
  readonly id: string;
  readonly role: Role;
  readonly mesh: string;
}

const DISTANCE = 60;
const FILL = 0.95;
const RADIANS = Math.PI / 180;

export class BoatView {
  private readonly canvas: HTMLCanvasElement;
  private readonly scene = new Scene();
  private readonly camera = new OrthographicCamera(-7, 7, 3, -3, 0.1, 2 * DISTANCE);
  private readonly renderer: WebGLRenderer;
  private readonly controls: OrbitControls;
  private readonly pieces = new Map<string, Piece>();
  private readonly wanted = new Map<string, string>();
  private readonly now = new Water(true);
  private readonly before = new Water(false);
  private readonly stop = new AbortController();
  private readonly resized: ResizeObserver;
  private palette: Palette = { hull: '#ddd', existing: '#bbb', ink: '#222', touch: '#077', water: '#888' };
  private colours: ReadonlyMap<string, string> = new Map();
  private selection: ReadonlySet<string> = new Set();
  private range = { x0: -2, x1: 12 };
  private waters: { length: number; now: Attitude; before: Attitude | undefined } | undefined;
  private named: ViewName | undefined = 'oblique';
  private readonly pace: Pace;
  private fence: WebGLSync | null = null;
  private frames = 0;
  /** While true nothing is drawn: measurements leave the renderer out with it. */
  still = false;

  /** Draws on the canvas; throws where the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement, ends: Ends) {
    this.canvas = canvas;
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio));
    const sun = new DirectionalLight('#ffffff', 1.5);
    sun.position.set(-5, 12, 8);
    this.scene.add(new HemisphereLight('#ffffff', '#9aa0a4', 1.9), sun);
    this.scene.add(this.now.group, this.before.group);
    this.pace = new Pace({
      draw: () => this.draw(),
      finished: () => this.finished(),
      nextFrame: (step) => requestAnimationFrame(step),
      cancel: (frame) => cancelAnimationFrame(frame),
      now: () => performance.now(),
    });
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.zoomToCursor = true;
    this.controls.enableDamping = false;
    this.controls.addEventListener('change', () => this.pace.ask('now'));
    this.controls.addEventListener('start', () => {
      this.named = undefined;
    });
    followPointer(canvas, (x, y) => this.at(x, y), ends, this.stop.signal);
    this.resized = new ResizeObserver(() => this.fit());
    this.resized.observe(canvas);
  }

  /** Shows these pieces and no others; only meshes that are new are asked for. */
  async show(listed: readonly Listed[], mesh: (path: string) => Promise<ArrayBuffer>): Promise<void> {
    this.wanted.clear();
    for (const one of listed) this.wanted.set(one.id, one.mesh);
    for (const id of this.pieces.keys()) if (!this.wanted.has(id)) this.drop(id);
    const missing = listed.filter((one) => this.pieces.get(one.id)?.mesh !== one.mesh);
    const first = this.pieces.size === 0;
    await Promise.all(
      missing.map(async ({ id, role, mesh: path }) => {
        const piece = await Piece.of(id, role, path, await mesh(path));
        if (this.wanted.get(id) === path && !this.stop.signal.aborted) this.put(piece);
        else piece.dispose();
      }),
    );
    if (missing.some((one) => one.role === 'hull' || one.role === 'appendage')) this.markWater();
    if (first && this.named) this.view(this.named);
  }

  put(piece: Piece): void {
    this.drop(piece.id);
    this.pieces.set(piece.id, piece);
    piece.paint(this.colours.get(piece.id), this.palette);
    piece.select(this.selection.has(piece.id));
    this.scene.add(piece.root);
    this.invalidate();
  }

  drop(id: string): void {
    this.pieces.get(id)?.dispose();
    this.pieces.delete(id);
    this.invalidate();
  }

  /** Colours by id; what has none is drawn plain. */
  paint(colours: ReadonlyMap<string, string>, palette: Palette): void {
    this.colours = colours;
    this.palette = palette;
    for (const [id, piece] of this.pieces) piece.paint(colours.get(id), palette);
    this.now.paint(palette.water, palette.ink);
    this.before.paint(palette.water, palette.ink);
    this.invalidate();
  }

  select(ids: ReadonlySet<string>): void {
    this.selection = ids;
    for (const [id, piece] of this.pieces) piece.select(ids.has(id));
    this.invalidate();
  }

  /** Lays the water as she floats, and as she floated before. */
  water(now: Attitude, before: Attitude | undefined, length: number): void {
    this.waters = { length, now, before };
    this.markWater();
  }

  /** What the drawing above covers along the boat, so that the profile stands right below it. */
  along(x0: number, x1: number): void {
    if (this.range.x0 === x0 && this.range.x1 === x1) return;
    this.range = { x0, x1 };
    this.fit();
  }

  /** Looks from a named side. */
  view(name: ViewName): void {
    this.named = name;
    const box = this.box();
    const target = box.getCenter(new Vector3());
    if (name === 'profile' || name === 'plan') target.x = (this.range.x0 + this.range.x1) / 2;
    this.controls.target.copy(target);
    this.camera.position.set(...EYES[name]).normalize().multiplyScalar(DISTANCE).add(target);
    this.camera.zoom = 1;
    this.controls.update();
    this.fill(name);
    this.invalidate();
  }

  /** Turns the eye about the boat. */
  turn(sidewaysDeg: number, upDeg: number): void {
    this.named = undefined;
    const arm = this.camera.position.clone().sub(this.controls.target);
    const place = new Spherical().setFromVector3(arm);
    place.theta += sidewaysDeg * RADIANS;
    place.phi = Math.min(179 * RADIANS, Math.max(1 * RADIANS, place.phi - upDeg * RADIANS));
    this.camera.position.setFromSpherical(place).add(this.controls.target);
    this.controls.update();
    this.invalidate();
  }

  /** Comes nearer (above 1) or goes away (below 1). */
  nearer(times: number): void {
    this.named = undefined;
    this.camera.zoom = Math.min(20, Math.max(0.2, this.camera.zoom * times));
    this.camera.updateProjectionMatrix();
    this.invalidate();
  }

  /** The new or replaced piece under a point of the page. */
  at(clientX: number, clientY: number): string | undefined {
    const { left, top, width, height } = this.canvas.getBoundingClientRect();
    const point = new Vector2(((clientX - left) / width) * 2 - 1, 1 - ((clientY - top) / height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(point, this.camera);
    for (const role of ['new', 'replaced'] as const) {
      const pieces = [...this.pieces.values()].filter((piece) => piece.role === role);
      const hit = ray.intersectObjects(pieces.map((piece) => piece.surface), false)[0];
      if (hit) return hit.object.userData.piece as string;
    }
    return undefined;
  }

  /** What is drawn, as plain data: tests read this instead of pixels. */
  describe() {
    const eye = this.camera.position.clone().sub(this.controls.target).normalize();
    return {
      frames: this.frames,
      view: this.named ?? null,
      eye: eye.toArray().map((v) => Math.round(v * 1000) / 1000),
      zoom: this.camera.zoom,
      perMetre: (this.canvas.clientWidth / (this.range.x1 - this.range.x0)) * this.camera.zoom,
      water: this.waters ?? null,
      triangles: this.renderer.info.render.triangles,
      geometries: this.renderer.info.memory.geometries,
      pieces: [...this.pieces.values()].map((piece) => piece.describe()),
    };
  }

  dispose(): void {
    this.stop.abort();
    this.pace.stop();
    this.resized.disconnect();
    this.controls.dispose();
    for (const piece of this.pieces.values()) piece.dispose();
    this.pieces.clear();
    this.now.dispose();
    this.before.dispose();
    this.renderer.dispose();
  }

  private markWater(): void {
    if (!this.waters) return;
    const { length, now, before } = this.waters;
    const hull = [...this.pieces.values()].filter((p) => p.role === 'hull' || p.role === 'appendage');
    const surfaces = hull.map((piece) => piece.surface.geometry);
    const box = this.box();
    const halfBreadth = Math.max(1, box.max.z, -box.min.z) + 0.7;
    const extent = { x0: box.min.x - 0.6, x1: box.max.x + 0.6, halfBreadth };
    for (const [water, attitude] of [[this.now, now], [this.before, before]] as const) {
      water.group.visible = attitude !== undefined;
      if (!attitude) continue;
      water.lie(attitude, length, extent);
      water.mark(surfaces);
    }
    this.invalidate();
  }

  private box(): Box3 {
    const box = new Box3();
    for (const piece of this.pieces.values()) box.union(piece.box());
    return box.isEmpty() ? box.set(new Vector3(-1, -2, -2), new Vector3(11, 2, 2)) : box;
  }

  /** Moves the eye so that she fills the canvas; along the boat the drawing above rules. */
  private fill(name: ViewName): void {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    const seen = boxSeen(this.pieces.values(), this.camera);
    if (!w || !h || seen.isEmpty()) return;
    const size = seen.getSize(new Vector3());
    const span = this.range.x1 - this.range.x0;
    const whole = Math.min(span / size.x, (span * h) / w / size.y) * FILL;
    const aligned = name === 'profile' || name === 'plan';
    this.camera.zoom = aligned ? Math.min(1, whole) : whole;
    const middle = seen.getCenter(new Vector3());
    const shift = new Vector3(aligned ? 0 : middle.x, middle.y, 0).transformDirection(this.camera.matrixWorld);
    shift.multiplyScalar(Math.hypot(aligned ? 0 : middle.x, middle.y));
    this.controls.target.add(shift);
    this.camera.position.add(shift);
    this.camera.updateProjectionMatrix();
    this.controls.update();
  }

  private fit(): void {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    if (!w || !h) return;
    this.renderer.setSize(w, h, false);
    const half = (this.range.x1 - this.range.x0) / 2;
    const up = (half * h) / w;
    Object.assign(this.camera, { left: -half, right: half, top: up, bottom: -up });
    this.camera.updateProjectionMatrix();
    if (this.named) this.view(this.named);
    this.draw();
  }

  private invalidate(): void {
    this.pace.ask();
  }

  private draw(): void {
    if (this.still) return;
    this.renderer.render(this.scene, this.camera);
    this.frames += 1;
    const gl = this.gl();
    gl.deleteSync(this.fence);
    this.fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
  }

  private finished(): boolean {
    const gl = this.gl();
    return !this.fence || gl.getSyncParameter(this.fence, gl.SYNC_STATUS) === gl.SIGNALED;
  }

  private gl(): WebGL2RenderingContext {
    return this.renderer.getContext() as WebGL2RenderingContext;
  }
}

/** What the camera sees of the pieces, in its own axes [m]. */
function boxSeen(pieces: Iterable<Piece>, camera: OrthographicCamera): Box3 {
  camera.updateMatrixWorld();
  const box = new Box3();
  const point = new Vector3();
  for (const piece of pieces) {
    const positions = piece.surface.geometry.getAttribute('position');
    for (let i = 0; i < positions.count; i += 1) {
      box.expandByPoint(point.fromBufferAttribute(positions, i).applyMatrix4(camera.matrixWorldInverse));
    }
  }
  return box;
}
