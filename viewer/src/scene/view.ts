/** The boat in three dimensions. No other file but those beside it knows the 3D library. */
import { Vector3 } from 'three';
import type { Level } from '../shared/boat/level.ts';
import type { FlatPoint, Point } from '../shared/boat/points.ts';
import { Afloat, aroundAll, type Waters } from './afloat.ts';
import type { Spot } from './aim.ts';
import { Aiming } from './aiming.ts';
import { Camera } from './camera.ts';
import { followHolding } from './holding.ts';
import { Drawing } from './look/drawing.ts';
import { Finishes } from './look/finishes.ts';
import type { Palette } from './look/palette.ts';
import { WeightBoxes, type WeightInside } from './look/weight-boxes.ts';
import type { Lit, Paint } from './part-mesh.ts';
import { Pieces, type SceneEntry } from './pieces.ts';
import { type Ends, followPointer } from './pointer.ts';
import { type Cut, Section } from './section.ts';
import { Stage } from './stage.ts';
import type { StillOrder } from './still/order.ts';
import type { ViewName } from './view-names.ts';

export type { Rung } from './look/ladder.ts';
export type { Palette } from './look/palette.ts';
export type { MeshRole } from './look/roles.ts';
export type { WeightInside } from './look/weight-boxes.ts';
export type { Cut, CutKind } from './section.ts';
export type { ViewName } from './view-names.ts';

/** Who is told what the pointer does, and that a picture was drawn. */
interface Events extends Omit<Ends, 'pressed'> {
  readonly spotted?: (spot: Spot | undefined) => void;
  readonly drawn?: () => void;
}

export class BoatView {
  readonly camera: Camera;
  readonly canvas: HTMLCanvasElement;
  private readonly drawing: Drawing;
  private readonly finishes: Finishes;
  private readonly afloat: Afloat;
  private readonly pieces: Pieces;
  private readonly aiming: Aiming;
  private readonly weightBoxes = new WeightBoxes();
  private readonly stop = new AbortController();
  private readonly stage: Stage;

  /** Draws on the canvas; throws where the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement, events: Events) {
    this.canvas = canvas;
    this.drawing = new Drawing(canvas, {
      camera: () => this.camera.orthographic,
      prepare: (look) => this.stage.prepare(look),
      drawn: () => events.drawn?.(),
    });
    this.finishes = new Finishes(this.drawing.rung === 'full');
    this.afloat = new Afloat(
      this.finishes,
      () => this.pieces.all,
      () => this.moved('now'),
    );
    this.pieces = new Pieces(this.afloat.boat, this.finishes, () => this.moved());
    this.afloat.boat.add(this.weightBoxes.group);
    this.weightBoxes.group.visible = false;
    this.drawing.scene.add(this.afloat.boat);
    this.camera = new Camera(
      canvas,
      () => this.afloat.reach(),
      () => this.drawing.ask('now'),
    );
    const { signal } = this.stop;
    const { camera, drawing, pieces, afloat, finishes, weightBoxes } = this;
    const parts = { canvas, camera, drawing, pieces, afloat, finishes, weightBoxes };
    this.stage = new Stage(parts);
    this.aiming = new Aiming(parts);
    const pressed = (x: number, y: number) => events.spotted?.(this.aiming.at(x, y).spot());
    followPointer(canvas, (x, y) => this.at(x, y), { ...events, pressed }, signal);
    followHolding(canvas, this.camera, this.aiming, signal);
    const resized = new ResizeObserver(() => this.fit());
    resized.observe(canvas);
    signal.addEventListener('abort', () => resized.disconnect());
  }

  /** While true nothing is drawn: measurements leave the renderer out with it. */
  set still(is: boolean) {
    this.drawing.isHalted = is;
  }

  get rung() {
    return this.drawing.rung;
  }

  /** Shows these pieces and no others; only meshes that are new are asked for. */
  async show(
    listed: readonly SceneEntry[],
    mesh: (path: string) => Promise<ArrayBuffer>,
  ): Promise<void> {
    const { isFirst, hasHull, isNew } = await this.pieces.show(listed, mesh);
    if (this.stop.signal.aborted) return;
    if (hasHull) this.afloat.mark();
    if (isNew) this.changed(isFirst);
  }

  /** Cuts her, and leaves out what lies before the cut; whole again without one. */
  cut(made: Cut | undefined): void {
    this.stage.section?.dispose();
    this.stage.section = undefined;
    if (made) {
      const cuttable = this.pieces.all.filter((piece) => piece.role !== 'replaced');
      this.stage.section = new Section(
        made,
        cuttable.map((piece) => piece.surface.geometry),
      );
      this.stage.section.paint(this.pieces.palette.touch);
      this.afloat.boat.add(this.stage.section.outline.root);
    }
    this.drawing.cuts = this.stage.section ? [this.stage.section.plane] : [];
    this.moved();
  }

  /** Least and most of what is drawn along each of the boat's axes [m]. */
  bounds(): readonly [FlatPoint, FlatPoint, FlatPoint] {
    const { min, max } = aroundAll(this.pieces.all);
    return [
      [min.x, max.x],
      [-max.z, -min.z],
      [min.y, max.y],
    ];
  }

  /** Colours by id; what has none is drawn plain. */
  paint(paints: ReadonlyMap<string, Paint>, palette: Palette): void {
    this.pieces.paint(paints, palette);
    this.stage.dress(palette);
    this.drawing.ask();
  }

  /** Opaque as painted, or seen through to what lies inside. */
  through(on: boolean): void {
    this.pieces.through(on);
    this.weightBoxes.group.visible = on;
    this.moved('now');
  }

  /** The weights that are seen where she is seen through. */
  weights(inside: readonly WeightInside[]): void {
    this.weightBoxes.show(inside, this.pieces.palette.ink);
    this.drawing.ask();
  }

  select(ids: ReadonlySet<string>): void {
    this.pieces.select(ids);
    this.drawing.ask();
  }

  /** Lights one plate or its part, and no other. */
  light(lit: Lit | undefined): void {
    this.pieces.light(lit);
    this.drawing.ask();
  }

  /**
   * Lays the water as she floats, and as she floated before; the boat is held still, or keel up
   * where she floats so. Where it `swings` it comes to rest in its new place.
   */
  water(waters: Omit<Waters, 'rise'>, swings = false): void {
    this.float({ ...waters, rise: undefined }, swings && this.drawing.rung !== 'plain');
  }

  /** Moves the boat as she lies in level water, rising or sinking no more than `rise`. */
  heel(now: Level, length: number, rise: number, painted?: Level): void {
    this.float({ now, before: undefined, isUpsideDown: false, length, rise, painted }, false);
  }

  /** Lets her settle from as found to now, the change drawn so many times; 10 stays so. */
  settle(times: 1 | 10, done: () => void): void {
    this.afloat.settle(times, done);
  }

  /** Held still again where she settled. */
  settled(): void {
    this.afloat.still();
  }

  /** Where a point of the boat is on the canvas [px]. */
  spot(point: Point): FlatPoint {
    return this.aiming.spotOf(point);
  }

  /** Whether a point of the boat is out of sight behind her, or cut away. */
  hides(point: Point): boolean {
    return this.aiming.hides(point);
  }

  /** What the drawing above covers along the boat, so that the profile stands right below it. */
  along(x0: number, x1: number): void {
    if (this.camera.along(x0, x1)) this.fit();
  }

  /** Looks from a named side, turning to it. */
  view(name: ViewName): void {
    this.camera.look(name, this.pieces.all.length > 0 && this.drawing.frames > 1);
  }

  /** The new or replaced piece under a point of the page. */
  at(clientX: number, clientY: number): string | undefined {
    return this.aiming.at(clientX, clientY).steel();
  }

  /** The middle of a piece, or of one of its plates, in the boat's frame; none if not drawn. */
  middle(id: string, plate?: string): Point | undefined {
    return this.pieces.of(id)?.middle(plate);
  }

  /** A picture at print size (PNG), whatever is drawn on the page meanwhile. */
  async png(order: StillOrder): Promise<Blob> {
    const { pngStill } = await import('./still/stills.ts');
    return pngStill(this.stage, order).finally(() => this.moved());
  }

  /** The same as a drawing in lines and faces (SVG). */
  async svg(order: StillOrder): Promise<string> {
    const { svgStill } = await import('./still/stills.ts');
    return svgStill(this.stage, order);
  }

  /** What is drawn, as plain data: tests read this instead of pixels. */
  describe() {
    return {
      ...this.drawing.describe(),
      ...this.camera.describe(),
      ...this.afloat.describe(),
      openings_m: this.finishes.openings,
      isThrough: this.pieces.isThrough,
      cut: this.stage.section
        ? { ...this.stage.section.cut, pieces: this.stage.section.pieces }
        : null,
      pieces: this.pieces.all.map((piece) => piece.describe()),
    };
  }

  dispose(): void {
    this.stop.abort();
    this.camera.dispose();
    this.pieces.dispose();
    this.weightBoxes.dispose();
    this.afloat.dispose();
    this.stage.section?.dispose();
    this.drawing.dispose();
  }

  private float(waters: Waters, swings: boolean): void {
    const { again, byHand } = this.afloat.float(waters, swings);
    if (again) this.camera.keepFit();
    this.drawing.ask(byHand ? 'now' : 'soon');
  }

  /** Other pieces are there: lit anew, cut anew, and all of her in sight. */
  private changed(isFirst: boolean): void {
    const box = aroundAll(this.pieces.all);
    const reach = box.getSize(new Vector3()).length() / 2;
    if (!box.isEmpty()) this.drawing.lamps.around(box.getCenter(new Vector3()), reach);
    this.cut(this.stage.section?.cut);
    if (isFirst || this.camera.isOutgrown) this.camera.keepFit();
  }

  private fit(): void {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    if (!w || !h) return;
    this.camera.fit();
    this.drawing.fit(w, h);
  }

  /** She or the light has changed. */
  private moved(how: 'soon' | 'now' = 'soon'): void {
    this.drawing.shadowsMoved();
    this.drawing.ask(how);
  }
}
