/** The boat in three dimensions. No other file but those beside it knows the 3D library. */
import { Scene, Vector2, Vector3, WebGLRenderer } from 'three';
import type { Level } from '../shared/boat/level.ts';
import type { FlatPoint, Point } from '../shared/boat/points.ts';
import { Afloat, aroundAll, type Waters } from './afloat.ts';
import { Aim, type Spot } from './aim.ts';
import { Camera, type ViewName } from './camera.ts';
import { FrameLoop, ON_SCREEN } from './frame-loop.ts';
import { GpuFence } from './gpu-fence.ts';
import { lights } from './lights.ts';
import { drawnAs } from './mesh-cache.ts';
import { FIRST_PALETTE, isHull, type Lit, type Palette, PartMesh } from './part-mesh.ts';
import { type Ends, followPointer } from './pointer.ts';
import { type Cut, Section } from './section.ts';

export type { ViewName } from './camera.ts';
export type { MeshRole, Palette } from './part-mesh.ts';
export type { Cut, CutKind } from './section.ts';

/** One mesh as the server lists it. */
type SceneEntry = Pick<PartMesh, 'id' | 'role' | 'mesh'>;

/** Who is told what the pointer does, and that a picture was drawn. */
interface Events extends Omit<Ends, 'pressed'> {
  readonly spotted?: (spot: Spot | undefined) => void;
  readonly drawn?: () => void;
}

export class BoatView {
  private readonly canvas: HTMLCanvasElement;
  private readonly events: Events;
  private readonly scene = new Scene();
  private readonly renderer: WebGLRenderer;
  private readonly camera: Camera;
  private readonly meshes = new Map<string, PartMesh>();
  private readonly wanted = new Map<string, string>();
  private readonly afloat = new Afloat();
  private readonly stop = new AbortController();
  private palette = FIRST_PALETTE;
  private colours: ReadonlyMap<string, string> = new Map();
  private selection: ReadonlySet<string> = new Set();
  private lit: Lit | undefined;
  private section: Section | undefined;
  private readonly frameLoop: FrameLoop;
  private readonly fence: GpuFence;
  private frames = 0;
  /** While true nothing is drawn: measurements leave the renderer out with it. */
  still = false;

  /** Draws on the canvas; throws where the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement, events: Events) {
    this.canvas = canvas;
    this.events = events;
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio));
    this.scene.add(...lights(), this.afloat.boat);
    this.fence = new GpuFence(this.renderer);
    this.frameLoop = new FrameLoop({
      draw: () => this.draw(),
      finished: () => this.fence.isPassed,
      ...ON_SCREEN,
    });
    this.camera = new Camera(
      canvas,
      () => this.afloat.reach(this.all),
      () => this.frameLoop.ask('now'),
    );
    const pressed = (x: number, y: number) => events.spotted?.(this.aim(x, y).spot());
    followPointer(canvas, (x, y) => this.at(x, y), { ...events, pressed }, this.stop.signal);
    const resized = new ResizeObserver(() => this.fit());
    resized.observe(canvas);
    this.stop.signal.addEventListener('abort', () => resized.disconnect());
  }

  /** Shows these pieces and no others; only meshes that are new are asked for. */
  async show(
    listed: readonly SceneEntry[],
    mesh: (path: string) => Promise<ArrayBuffer>,
  ): Promise<void> {
    this.wanted.clear();
    for (const one of listed) this.wanted.set(one.id, drawnAs(one));
    for (const id of this.meshes.keys()) if (!this.wanted.has(id)) this.drop(id);
    const missing = listed.filter((one) => {
      const there = this.meshes.get(one.id);
      return !there || drawnAs(there) !== drawnAs(one);
    });
    const first = this.meshes.size === 0;
    await Promise.all(
      missing.map(async ({ id, role, mesh: path }) => {
        const piece = await PartMesh.of(id, role, path, await mesh(path));
        if (this.wanted.get(id) === drawnAs(piece) && !this.stop.signal.aborted) this.put(piece);
        else piece.dispose();
      }),
    );
    if (missing.some(({ role }) => isHull(role))) this.markWater();
    if (missing.length > 0) this.cut(this.section?.cut);
    if (first && this.camera.named) this.view(this.camera.named);
  }

  /** Cuts her, and leaves out what lies before the cut; whole again without one. */
  cut(made: Cut | undefined): void {
    this.section?.dispose();
    this.section = undefined;
    this.renderer.clippingPlanes = [];
    if (made) {
      const cuttable = this.all.filter((piece) => piece.role !== 'replaced');
      this.section = new Section(
        made,
        cuttable.map((piece) => piece.surface.geometry),
      );
      this.section.paint(this.palette.touch);
      this.afloat.boat.add(this.section.outline);
      this.renderer.clippingPlanes = [this.section.plane];
    }
    this.invalidate();
  }

  /** Least and most of what is drawn along each of the boat's axes [m]. */
  bounds(): readonly [FlatPoint, FlatPoint, FlatPoint] {
    const { min, max } = aroundAll(this.all);
    return [
      [min.x, max.x],
      [-max.z, -min.z],
      [min.y, max.y],
    ];
  }

  put(piece: PartMesh): void {
    this.drop(piece.id);
    this.meshes.set(piece.id, piece);
    piece.paint(this.colours.get(piece.id), this.palette);
    piece.select(this.selection.has(piece.id));
    piece.light(this.lit, this.palette.touch);
    this.afloat.boat.add(piece.root);
    this.invalidate();
  }

  drop(id: string): void {
    this.meshes.get(id)?.dispose();
    this.meshes.delete(id);
    this.invalidate();
  }

  /** Colours by id; what has none is drawn plain. */
  paint(colours: ReadonlyMap<string, string>, palette: Palette): void {
    this.colours = colours;
    this.palette = palette;
    for (const [id, piece] of this.meshes) piece.paint(colours.get(id), palette);
    this.section?.paint(palette.touch);
    this.afloat.paint(palette);
    this.invalidate();
  }

  select(ids: ReadonlySet<string>): void {
    this.selection = ids;
    for (const [id, piece] of this.meshes) piece.select(ids.has(id));
    this.invalidate();
  }

  /** Lights one plate or its part, and no other. */
  light(lit: Lit | undefined): void {
    this.lit = lit;
    for (const piece of this.meshes.values()) piece.light(lit, this.palette.touch);
    this.invalidate();
  }

  /**
   * Lays the water as she floats, and as she floated before; the boat is held still, or keel up
   * where she floats so.
   */
  water(waters: Omit<Waters, 'rise'>): void {
    this.float({ ...waters, rise: undefined });
  }

  /** Moves the boat as she lies in level water, rising or sinking no more than `rise`. */
  heel(now: Level, length: number, rise: number): void {
    this.float({ now, before: undefined, isUpsideDown: false, length, rise });
  }

  /** Where a point of the boat is on the canvas [px]. */
  spot([x, y, z]: Point): FlatPoint {
    const point = new Vector3(x, z, -y).applyMatrix4(this.afloat.boat.matrix);
    point.project(this.camera.orthographic);
    const { clientWidth: w, clientHeight: h } = this.canvas;
    return [((point.x + 1) / 2) * w, ((1 - point.y) / 2) * h];
  }

  /** What the drawing above covers along the boat, so that the profile stands right below it. */
  along(x0: number, x1: number): void {
    if (this.camera.along(x0, x1)) this.fit();
  }

  /** Looks from a named side. */
  view(name: ViewName): void {
    this.camera.look(name);
    this.invalidate();
  }

  /** Turns the camera about the boat. */
  turn(sidewaysDeg: number, upDeg: number): void {
    this.camera.turn(sidewaysDeg, upDeg);
  }

  /** Comes nearer (above 1) or goes away (below 1). */
  nearer(times: number): void {
    this.camera.nearer(times);
    this.invalidate();
  }

  /** The new or replaced piece under a point of the page. */
  at(clientX: number, clientY: number): string | undefined {
    return this.aim(clientX, clientY).steel();
  }

  /** The middle of a piece, or of one of its plates, in the boat's frame; none if not drawn. */
  middle(id: string, plate?: string): Point | undefined {
    const [x, y, z] = this.meshes.get(id)?.middle(plate) ?? [];
    return x === undefined || y === undefined || z === undefined ? undefined : [x, -z, y];
  }

  private aim(clientX: number, clientY: number): Aim {
    const { left, top, width, height } = this.canvas.getBoundingClientRect();
    const [x, y] = [((clientX - left) / width) * 2 - 1, 1 - ((clientY - top) / height) * 2];
    const { orthographic: camera, perMetre } = this.camera;
    const look = { camera, perMetre, cuts: this.renderer.clippingPlanes };
    return new Aim(look, [x, y], this.all);
  }

  /** What is drawn, as plain data: tests read this instead of pixels. */
  describe() {
    return {
      frames: this.frames,
      view: this.camera.named ?? null,
      eye: this.camera.direction.map((v) => Math.round(v * 1000) / 1000),
      zoom: this.camera.orthographic.zoom,
      perMetre: this.camera.perMetre,
      afloat: this.afloat.waters ?? null,
      cut: this.section ? { ...this.section.cut, pieces: this.section.pieces } : null,
      triangles: this.renderer.info.render.triangles,
      geometries: this.renderer.info.memory.geometries,
      pieces: this.all.map((piece) => piece.describe()),
    };
  }

  dispose(): void {
    this.stop.abort();
    this.frameLoop.stop();
    this.camera.dispose();
    for (const piece of this.meshes.values()) piece.dispose();
    this.meshes.clear();
    this.afloat.dispose();
    this.section?.dispose();
    this.renderer.dispose();
  }

  private get all(): readonly PartMesh[] {
    return [...this.meshes.values()];
  }

  private float(waters: Waters): void {
    const { again, byHand } = this.afloat.float(waters);
    this.markWater();
    if (again && this.camera.named) this.view(this.camera.named);
    if (byHand) this.frameLoop.ask('now');
  }

  private markWater(): void {
    this.afloat.mark(this.all);
    this.invalidate();
  }

  private fit(): void {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    if (!w || !h) return;
    this.camera.fit();
    const { x, y } = this.renderer.getSize(new Vector2());
    if (x === w && y === h) this.invalidate();
    else {
      this.renderer.setSize(w, h, false); // which wipes the picture
      this.draw();
    }
  }

  private invalidate(): void {
    this.frameLoop.ask();
  }

  private draw(): void {
    if (this.still) return;
    this.section?.face(this.camera.direction, this.afloat.boat.matrix);
    this.renderer.render(this.scene, this.camera.orthographic);
    this.frames += 1;
    this.fence.raise();
    this.events.drawn?.();
  }
}
