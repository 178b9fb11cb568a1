/** The boat in three dimensions. No other file but those beside it knows the 3D library. */
import {
  Box3,
  DirectionalLight,
  Group,
  HemisphereLight,
  Scene,
  Vector2,
  Vector3,
  WebGLRenderer,
} from 'three';
import type { Level } from '../shared/boat/level.ts';
import type { FlatPoint, Point } from '../shared/boat/points.ts';
import { Aim, type Spot } from './aim.ts';
import { Eye, type ViewName } from './camera.ts';
import { Pace } from './frame-loop.ts';
import { drawnAs } from './mesh-cache.ts';
import { boxOf, type Lit, type Palette, Piece, type Role } from './part-mesh.ts';
import { heldStill, isKeelUp, toTheLevel, turnedOver, turningReach } from './placing.ts';
import { type Ends, followPointer } from './pointer.ts';
import { type Cut, Section } from './section.ts';
import { Water } from './water.ts';

export type { ViewName } from './camera.ts';
export type { Cut, CutKind } from './section.ts';
export type { Palette, Role };

/** One piece as the server lists it. */
export interface Listed {
  readonly id: string;
  readonly role: Role;
  readonly mesh: string;
}

/** Who is told what the pointer does, and that a picture was drawn. */
interface Told extends Omit<Ends, 'pressed'> {
  readonly spotted?: (spot: Spot | undefined) => void;
  readonly drawn?: () => void;
}

/** The water now and before; the boat is held still, or moved so that the water is level. */
interface Afloat {
  readonly now: Level;
  readonly before: Level | undefined;
  readonly length: number;
  /** Where she is moved: how far she rises or sinks at most [m]. */
  readonly rise: number | undefined;
}

export class BoatView {
  private readonly canvas: HTMLCanvasElement;
  private readonly told: Told;
  private readonly scene = new Scene();
  private readonly boat = new Group();
  private readonly renderer: WebGLRenderer;
  private readonly eye: Eye;
  private readonly pieces = new Map<string, Piece>();
  private readonly wanted = new Map<string, string>();
  private readonly now = new Water(true);
  private readonly before = new Water(false);
  private readonly stop = new AbortController();
  private readonly resized: ResizeObserver;
  private palette: Palette = {
    hull: '#ddd',
    existing: '#bbb',
    ink: '#222',
    touch: '#077',
    water: '#888',
  };
  private colours: ReadonlyMap<string, string> = new Map();
  private selection: ReadonlySet<string> = new Set();
  private lit: Lit | undefined;
  private afloat: Afloat | undefined;
  private section: Section | undefined;
  private readonly pace: Pace;
  private fence: WebGLSync | null = null;
  private frames = 0;
  /** While true nothing is drawn: measurements leave the renderer out with it. */
  still = false;

  /** Draws on the canvas; throws where the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement, told: Told) {
    this.canvas = canvas;
    this.told = told;
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio));
    const sun = new DirectionalLight('#ffffff', 1.5);
    sun.position.set(-5, 12, 8);
    this.boat.matrixAutoUpdate = false;
    this.boat.add(this.now.group, this.before.group);
    this.scene.add(new HemisphereLight('#ffffff', '#9aa0a4', 1.9), sun, this.boat);
    this.pace = new Pace({
      draw: () => this.draw(),
      finished: () => this.finished(),
      nextFrame: (step) => requestAnimationFrame(step),
      cancel: (frame) => cancelAnimationFrame(frame),
      now: () => performance.now(),
    });
    this.eye = new Eye(
      canvas,
      () => this.reach(),
      () => this.pace.ask('now'),
    );
    const pressed = (x: number, y: number) => told.spotted?.(this.aim(x, y).spot());
    followPointer(canvas, (x, y) => this.at(x, y), { ...told, pressed }, this.stop.signal);
    this.resized = new ResizeObserver(() => this.fit());
    this.resized.observe(canvas);
  }

  /** Shows these pieces and no others; only meshes that are new are asked for. */
  async show(
    listed: readonly Listed[],
    mesh: (path: string) => Promise<ArrayBuffer>,
  ): Promise<void> {
    this.wanted.clear();
    for (const one of listed) this.wanted.set(one.id, drawnAs(one));
    for (const id of this.pieces.keys()) if (!this.wanted.has(id)) this.drop(id);
    const missing = listed.filter((one) => {
      const there = this.pieces.get(one.id);
      return !there || drawnAs(there) !== drawnAs(one);
    });
    const first = this.pieces.size === 0;
    await Promise.all(
      missing.map(async ({ id, role, mesh: path }) => {
        const piece = await Piece.of(id, role, path, await mesh(path));
        if (this.wanted.get(id) === drawnAs(piece) && !this.stop.signal.aborted) this.put(piece);
        else piece.dispose();
      }),
    );
    if (missing.some((one) => one.role === 'hull' || one.role === 'appendage')) this.markWater();
    if (missing.length > 0) this.cut(this.section?.cut);
    if (first && this.eye.named) this.view(this.eye.named);
  }

  /** Cuts her, and leaves out what lies before the cut; whole again without one. */
  cut(made: Cut | undefined): void {
    this.section?.dispose();
    this.section = undefined;
    this.renderer.clippingPlanes = [];
    if (made) {
      const cuttable = [...this.pieces.values()].filter((piece) => piece.role !== 'replaced');
      this.section = new Section(
        made,
        cuttable.map((piece) => piece.surface.geometry),
      );
      this.section.paint(this.palette.touch);
      this.boat.add(this.section.outline);
      this.renderer.clippingPlanes = [this.section.plane];
    }
    this.invalidate();
  }

  /** Least and most of what is drawn along each of the boat's axes [m]. */
  bounds(): readonly [FlatPoint, FlatPoint, FlatPoint] {
    const box = new Box3();
    for (const { surface } of this.pieces.values()) box.union(boxOf(surface));
    const { min, max } = box;
    return [
      [min.x, max.x],
      [-max.z, -min.z],
      [min.y, max.y],
    ];
  }

  put(piece: Piece): void {
    this.drop(piece.id);
    this.pieces.set(piece.id, piece);
    piece.paint(this.colours.get(piece.id), this.palette);
    piece.select(this.selection.has(piece.id));
    piece.light(this.lit, this.palette.touch);
    this.boat.add(piece.root);
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
    this.section?.paint(palette.touch);
    this.now.paint(palette.water, palette.ink);
    this.before.paint(palette.water, palette.ink);
    this.invalidate();
  }

  select(ids: ReadonlySet<string>): void {
    this.selection = ids;
    for (const [id, piece] of this.pieces) piece.select(ids.has(id));
    this.invalidate();
  }

  /** Lights one plate or its part, and no other. */
  light(lit: Lit | undefined): void {
    this.lit = lit;
    for (const piece of this.pieces.values()) piece.light(lit, this.palette.touch);
    this.invalidate();
  }

  /**
   * Lays the water as she floats, and as she floated before; the boat is held still, or keel up
   * where she floats so.
   */
  water(now: Level, before: Level | undefined, length: number): void {
    this.float({ now, before, length, rise: undefined });
  }

  /** Moves the boat as she lies in level water, rising or sinking no more than `rise`. */
  heel(now: Level, length: number, rise: number): void {
    this.float({ now, before: undefined, length, rise });
  }

  /** Where a point of the boat is on the canvas [px]. */
  spot([x, y, z]: Point): FlatPoint {
    const point = new Vector3(x, z, -y).applyMatrix4(this.boat.matrix);
    point.project(this.eye.camera);
    const { clientWidth: w, clientHeight: h } = this.canvas;
    return [((point.x + 1) / 2) * w, ((1 - point.y) / 2) * h];
  }

  /** What the drawing above covers along the boat, so that the profile stands right below it. */
  along(x0: number, x1: number): void {
    if (this.eye.along(x0, x1)) this.fit();
  }

  /** Looks from a named side. */
  view(name: ViewName): void {
    this.eye.look(name);
    this.invalidate();
  }

  /** Turns the eye about the boat. */
  turn(sidewaysDeg: number, upDeg: number): void {
    this.eye.turn(sidewaysDeg, upDeg);
  }

  /** Comes nearer (above 1) or goes away (below 1). */
  nearer(times: number): void {
    this.eye.nearer(times);
    this.invalidate();
  }

  /** The new or replaced piece under a point of the page. */
  at(clientX: number, clientY: number): string | undefined {
    return this.aim(clientX, clientY).steel();
  }

  /** The middle of a piece, or of one of its plates, in the boat's frame; none if not drawn. */
  middle(id: string, plate?: string): Point | undefined {
    const [x, y, z] = this.pieces.get(id)?.middle(plate) ?? [];
    return x === undefined || y === undefined || z === undefined ? undefined : [x, -z, y];
  }

  private aim(clientX: number, clientY: number): Aim {
    const { left, top, width, height } = this.canvas.getBoundingClientRect();
    const [x, y] = [((clientX - left) / width) * 2 - 1, 1 - ((clientY - top) / height) * 2];
    const { camera, perMetre } = this.eye;
    const look = { camera, perMetre, cuts: this.renderer.clippingPlanes };
    return new Aim(look, [x, y], [...this.pieces.values()]);
  }

  /** What is drawn, as plain data: tests read this instead of pixels. */
  describe() {
    return {
      frames: this.frames,
      view: this.eye.named ?? null,
      eye: this.eye.direction.map((v) => Math.round(v * 1000) / 1000),
      zoom: this.eye.camera.zoom,
      perMetre: this.eye.perMetre,
      afloat: this.afloat ?? null,
      cut: this.section ? { ...this.section.cut, pieces: this.section.pieces } : null,
      triangles: this.renderer.info.render.triangles,
      geometries: this.renderer.info.memory.geometries,
      pieces: [...this.pieces.values()].map((piece) => piece.describe()),
    };
  }

  dispose(): void {
    this.stop.abort();
    this.pace.stop();
    this.resized.disconnect();
    this.eye.dispose();
    for (const piece of this.pieces.values()) piece.dispose();
    this.pieces.clear();
    this.now.dispose();
    this.before.dispose();
    this.section?.dispose();
    this.renderer.dispose();
  }

  private float(afloat: Afloat): void {
    const moved = afloat.rise !== undefined;
    const was = this.afloat?.now;
    const again = moved ? !was : isKeelUp(afloat.now) !== (was !== undefined && isKeelUp(was));
    const byHand = moved && was?.heel !== afloat.now.heel;
    this.afloat = afloat;
    if (moved) this.boat.matrix.copy(toTheLevel(afloat.now, afloat.length));
    else this.boat.matrix.copy(heldStill(afloat.now));
    this.boat.matrixWorldNeedsUpdate = true;
    this.markWater();
    if (again && this.eye.named) this.view(this.eye.named);
    if (byHand) this.pace.ask('now');
  }

  private markWater(): void {
    if (!this.afloat || this.pieces.size === 0) return;
    const { length, now, before } = this.afloat;
    const hull = [...this.pieces.values()].filter(
      (p) => p.role === 'hull' || p.role === 'appendage',
    );
    const surfaces = hull.map((piece) => piece.surface.geometry);
    const extent = this.extent();
    for (const [water, level] of [
      [this.now, now],
      [this.before, before],
    ] as const) {
      water.group.visible = level !== undefined;
      if (!level) continue;
      water.lie(level, length, extent);
      water.mark(surfaces);
    }
    this.invalidate();
  }

  /** What the water covers: all of the boat, however she is heeled. */
  private extent() {
    const box = new Box3();
    for (const { surface } of this.pieces.values()) box.union(boxOf(surface));
    const { min, max } = box;
    const upAndDown = this.afloat?.rise === undefined ? [] : [max.y, -min.y];
    const halfBreadth = Math.max(1, max.z, -min.z, ...upAndDown) + 0.7;
    return { x0: min.x - 0.6, x1: max.x + 0.6, halfBreadth };
  }

  private reach(): readonly ArrayLike<number>[] {
    const surfaces = [...this.pieces.values()].map(
      (piece) => piece.surface.geometry.getAttribute('position').array,
    );
    if (!this.afloat) return surfaces;
    const { rise, now } = this.afloat;
    if (rise !== undefined) return [turningReach(surfaces, rise)];
    return isKeelUp(now) ? surfaces.map(turnedOver) : surfaces;
  }

  private fit(): void {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    if (!w || !h) return;
    this.eye.fit();
    const { x, y } = this.renderer.getSize(new Vector2());
    if (x === w && y === h) return this.invalidate();
    this.renderer.setSize(w, h, false); // which wipes the picture
    this.draw();
  }

  private invalidate(): void {
    this.pace.ask();
  }

  private draw(): void {
    if (this.still) return;
    this.section?.face(this.eye.direction, this.boat.matrix);
    this.renderer.render(this.scene, this.eye.camera);
    this.frames += 1;
    const gl = this.gl();
    gl.deleteSync(this.fence);
    this.fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
    this.told.drawn?.();
  }

  private finished(): boolean {
    const gl = this.gl();
    return !this.fence || gl.getSyncParameter(this.fence, gl.SYNC_STATUS) === gl.SIGNALED;
  }

  private gl(): WebGL2RenderingContext {
    return this.renderer.getContext() as WebGL2RenderingContext;
  }
}
