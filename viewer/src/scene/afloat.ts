/** The boat in her water: held still with the water laid on her, or moved in level water. */
import { Box3, Group } from 'three';
import type { Level } from '../shared/boat/level.ts';
import { boxOf, isHull, type Palette, type PartMesh } from './part-mesh.ts';
import { heldStill, toTheLevel, turnedOver, turningReach } from './placing.ts';
import { Water } from './water.ts';

/** The water now and before; the boat is held still, or moved so that the water is level. */
export interface Waters {
  readonly now: Level;
  readonly before: Level | undefined;
  /** Whether she floats upside down now. */
  readonly isUpsideDown: boolean;
  readonly length: number;
  /** Where she is moved: how far she rises or sinks at most [m]. */
  readonly rise: number | undefined;
}

export class Afloat {
  /** What moves with the boat: both waters, and all that is drawn of her. */
  readonly boat = new Group();
  waters: Waters | undefined;
  private readonly now = new Water(true);
  private readonly before = new Water(false);

  constructor() {
    this.boat.matrixAutoUpdate = false;
    this.boat.add(this.now.group, this.before.group);
  }

  /** Lays the waters; whether the view is another one now, and whether a hand turned the boat. */
  float(waters: Waters): { readonly again: boolean; readonly byHand: boolean } {
    const { now, isUpsideDown, length, rise } = waters;
    const moved = rise !== undefined;
    const was = this.waters?.now;
    const wasUpsideDown = this.waters?.isUpsideDown ?? false;
    this.waters = waters;
    this.boat.matrix.copy(moved ? toTheLevel(now, length) : heldStill(isUpsideDown));
    this.boat.matrixWorldNeedsUpdate = true;
    return {
      again: moved ? !was : isUpsideDown !== wasUpsideDown,
      byHand: moved && was?.heel !== now.heel,
    };
  }

  /** Draws the water on the hull. */
  mark(meshes: readonly PartMesh[]): void {
    if (!this.waters || meshes.length === 0) return;
    const { length, now, before } = this.waters;
    const surfaces = meshes.filter(({ role }) => isHull(role)).map((one) => one.surface.geometry);
    const extent = this.extent(meshes);
    for (const [water, level] of [
      [this.now, now],
      [this.before, before],
    ] as const) {
      water.group.visible = level !== undefined;
      if (!level) continue;
      water.lie(level, length, extent);
      water.mark(surfaces);
    }
  }

  paint({ water, ink }: Palette): void {
    this.now.paint(water, ink);
    this.before.paint(water, ink);
  }

  /** Points that must be seen, (X, Y, Z) after (X, Y, Z). */
  reach(meshes: readonly PartMesh[]): readonly ArrayLike<number>[] {
    const surfaces = meshes.map((one) => one.surface.geometry.getAttribute('position').array);
    if (!this.waters) return surfaces;
    const { rise, isUpsideDown } = this.waters;
    if (rise !== undefined) return [turningReach(surfaces, rise)];
    return isUpsideDown ? surfaces.map(turnedOver) : surfaces;
  }

  dispose(): void {
    this.now.dispose();
    this.before.dispose();
  }

  /** What the water covers: all of the boat, however she is heeled. */
  private extent(meshes: readonly PartMesh[]) {
    const { min, max } = aroundAll(meshes);
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
