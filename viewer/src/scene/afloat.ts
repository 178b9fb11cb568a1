/** The boat in her water: held still with the water laid on her, or moved in level water. */
import { Box3, Group } from 'three';
import { directionsOf, type Level } from '../shared/boat/level.ts';
import { between, eased, swung } from '../shared/boat/settling.ts';
import type { Finishes } from './look/finishes.ts';
import { boxOf } from './look/geometry.ts';
import type { Palette } from './look/palette.ts';
import { isHull } from './look/roles.ts';
import type { Stroke } from './look/strokes.ts';
import { Water } from './look/water.ts';
import { isStill, play, type Stop } from './motion.ts';
import type { PartMesh } from './part-mesh.ts';
import { heldStill, toTheLevel, turnedOver, turningReach } from './placing.ts';

/** The water now and before; the boat is held still, or moved so that the water is level. */
export interface Waters {
  readonly now: Level;
  readonly before: Level | undefined;
  /** Whether she floats upside down now. */
  readonly isUpsideDown: boolean;
  readonly length: number;
  /** The water she is painted to, where it is another. */
  readonly painted?: Level | undefined;
  /** Where she is moved: how far she rises or sinks at most [m]. */
  readonly rise: number | undefined;
}

/** Share of the time she lies there before she is held still again. */
const PAUSE = 0.64;

/** Seen flatter than this the sea is a line. */
const EDGE_ON = 0.04;

const UPRIGHT: Level = { heel: 0, trim: 0, offset: 0 };
const KEEL_UP: Level = { heel: 180, trim: 0, offset: 0 };

export class Afloat {
  /** What moves with the boat: both waters, and all that is drawn of her. */
  readonly boat = new Group();
  waters: Waters | undefined;
  /** How the water lies in the picture, and to which water she is painted. */
  shown: { readonly now: Level; readonly painted: Level } = { now: UPRIGHT, painted: UPRIGHT };
  /** How many times the change is drawn, while she settles or lies there. */
  times = 0;
  private readonly now = new Water(true);
  private readonly before = new Water(false);
  private readonly finishes: Finishes;
  private readonly meshes: () => readonly PartMesh[];
  private readonly moved: () => void;
  private stop: Stop = () => undefined;

  /** Floats the meshes; tells when the picture is another one. */
  constructor(finishes: Finishes, meshes: () => readonly PartMesh[], moved: () => void) {
    this.finishes = finishes;
    this.meshes = meshes;
    this.moved = moved;
    this.boat.matrixAutoUpdate = false;
    this.boat.add(this.now.group, this.before.group);
  }

  /** The sea as it lies on her; none until she floats. */
  get seaShape() {
    return this.waters && this.now.seaShape;
  }

  get strokes(): readonly Stroke[] {
    return [...this.now.strokes, ...this.before.strokes];
  }

  /** Lays the waters; whether the view is another one now, and whether a hand turned the boat. */
  float(waters: Waters, swings: boolean): { readonly again: boolean; readonly byHand: boolean } {
    const { now, isUpsideDown, rise } = waters;
    const moves = rise !== undefined;
    const was = this.waters?.now;
    const wasUpsideDown = this.waters?.isUpsideDown ?? false;
    const turns = isUpsideDown !== wasUpsideDown;
    const from = was && this.times === 0 ? this.shown.now : was;
    this.waters = waters;
    this.halt();
    this.mark();
    if (swings && from && !moves && !turns && !isStill() && this.meshes().length > 0)
      this.swing(from);
    return { again: moves ? !was : turns, byHand: moves && was?.heel !== now.heel };
  }

  /** Draws the water on the hull, and stands her in it. */
  mark(): void {
    if (!this.waters) return;
    const { now, before, rise, isUpsideDown, painted } = this.waters;
    // held at a heel or upside down she keeps the paint she has
    const kept = rise !== undefined || isUpsideDown ? UPRIGHT : now;
    const asked = painted && Math.abs(painted.heel) < 90 ? painted : kept;
    this.lay(now, asked, rise === undefined ? 0 : 1);
    this.before.group.visible = before !== undefined;
    if (before) this.lie(this.before, before);
  }

  /**
   * Lets her settle from the former water into the present one, which is level meanwhile; the
   * change is drawn so many times. Drawn larger she stays there until she is laid anew.
   */
  settle(times: number, done: () => void): void {
    const { before, now } = this.waters ?? {};
    if (!(before && now)) {
      done();
      return;
    }
    this.halt();
    this.times = times;
    this.stop = play(
      'settle',
      (share) => this.lay(between(before, now, swung(share) * times), before, 1),
      () => (times === 1 ? this.rest(before, now, done) : done()),
    );
  }

  /** Held still again, as she floats now. */
  still(): void {
    this.halt();
    this.mark();
    this.moved();
  }

  /** Whether she throws her shadow on the sea. */
  set hasShadow(is: boolean) {
    this.now.hasShadow = is;
  }

  /** The sea is a line where it is seen edge on; the direction is in the boat's axes. */
  seenFrom([x = 0, y = 0, z = 0]: readonly number[]): void {
    const { up } = directionsOf(this.shown.now);
    const rising = x * up[0] - z * up[1] + y * up[2];
    for (const one of [this.now, this.before]) one.isEdgeOn = Math.abs(rising) < EDGE_ON;
  }

  paint(palette: Palette): void {
    this.now.paint(palette);
    this.before.paint(palette);
  }

  /** Points that must be seen, (X, Y, Z) after (X, Y, Z). */
  reach(): readonly ArrayLike<number>[] {
    const surfaces = this.meshes().map((one) => one.surface.geometry.getAttribute('position'));
    const positions = surfaces.flatMap((one) => (one ? [one.array] : []));
    if (!this.waters) return positions;
    const { rise, isUpsideDown } = this.waters;
    if (rise !== undefined) return [turningReach(positions, rise)];
    return isUpsideDown ? positions.map(turnedOver) : positions;
  }

  describe() {
    const { now, painted } = this.shown;
    return {
      afloat: this.waters ?? null,
      /** How the water lies in the picture, and from where up antifouling, boot-top, topsides. */
      shown: now,
      paint: { to: painted, boot_top_m: this.finishes.bootTop },
      times: this.times,
    };
  }

  dispose(): void {
    this.halt();
    this.now.dispose();
    this.before.dispose();
  }

  private halt(): void {
    this.stop();
    this.times = 0;
  }

  private swing(from: Level): void {
    const { now } = this.waters ?? {};
    if (!now || isAlike(from, now)) return;
    const step = (share: number) => {
      const level = between(from, now, swung(share));
      this.lay(level, level, 0);
    };
    this.stop = play('swing', step);
  }

  /** Back from level water to the boat held still; the paint follows. */
  private rest(before: Level, now: Level, done: () => void): void {
    const step = (share: number) => {
      const back = eased(Math.max(0, (share - PAUSE) / (1 - PAUSE)));
      this.lay(now, between(before, now, back), 1 - back);
    };
    this.stop = play('swing', step, () => {
      this.still();
      done();
    });
  }

  /** The water at a level, she painted to another; level on the page, held still, or between. */
  private lay(now: Level, painted: Level, level: number): void {
    const { length = 0, isUpsideDown = false } = this.waters ?? {};
    const held = isUpsideDown ? KEEL_UP : UPRIGHT;
    this.shown = { now, painted };
    this.boat.matrix.copy(
      level === 0 ? heldStill(isUpsideDown) : toTheLevel(between(held, now, level), length),
    );
    this.boat.matrixWorldNeedsUpdate = true;
    this.finishes.float(now, painted, length);
    this.lie(this.now, now);
    this.moved();
  }

  private lie(water: Water, level: Level): void {
    const meshes = this.meshes();
    if (!this.waters || meshes.length === 0) return;
    const wetted = meshes.flatMap(({ role, surface: { geometry } }) =>
      isHull(role) ? [{ geometry, isHull: role === 'hull' }] : [],
    );
    water.lie(level, this.waters.length, this.extent(), wetted);
  }

  /** What the water covers: all of the boat, however she is heeled. */
  private extent() {
    const { min, max } = aroundAll(this.meshes());
    const upAndDown = this.waters?.rise === undefined ? [] : [max.y, -min.y];
    const halfBreadth = Math.max(1, max.z, -min.z, ...upAndDown) + 0.7;
    return { x0: min.x - 0.6, x1: max.x + 0.6, halfBreadth };
  }
}

/** Around all that is drawn, in the boat's own axes in the scene. */
export function aroundAll(meshes: readonly PartMesh[]): Box3 {
  const box = new Box3();
  for (const { surface } of meshes) box.union(boxOf(surface));
  return box;
}

const isAlike = (a: Level, b: Level) =>
  Math.abs(a.heel - b.heel) < 1e-3 &&
  Math.abs(a.trim - b.trim) < 1e-4 &&
  Math.abs(a.offset - b.offset) < 1e-4;
