/** What lies under a point of the canvas: the piece, its plate, the place on it. */
import {
  type Intersection,
  type OrthographicCamera,
  type Plane,
  Raycaster,
  Vector2,
  type Vector3,
} from 'three';
import type { Point } from '../shared/boat/points.ts';
import type { Opening } from './look/finishes.ts';
import { isHull, type MeshRole } from './look/roles.ts';
import type { PartMesh } from './part-mesh.ts';

/** A place on a piece, in the boat's frame [m]. */
export interface Spot {
  readonly piece: string;
  readonly plate: string | undefined;
  readonly point: Point;
  /** What a press there is worth [m]: a corner of what is drawn, or as fine as the picture. */
  readonly within: number;
}

/** How the boat is looked at. */
interface AimView {
  readonly camera: OrthographicCamera;
  /** Pixels a metre. */
  readonly perMetre: number;
  /** What is left out: all that lies behind these. */
  readonly cuts: readonly Plane[];
  /** Where the deck is open. */
  readonly openings: readonly Opening[];
  /** Whether the hull is seen through. */
  readonly isThrough: boolean;
}

const STEEL: readonly MeshRole[] = ['new', 'existing'];
/** Steel before what it replaces, and before the hull it lies on. */
const LAYERS: readonly (readonly MeshRole[])[] = [STEEL, ['replaced'], ['hull', 'appendage']];

/** A press this near to a corner [px] means the corner. */
const REACH_PX = 8;
/** Corners farther from what was hit than so many times that are on its other side. */
const ASIDE = 4;
/** Steel so little behind the plating lies on it [m]. */
const ON_PLATING = 0.03;
/** A point this close behind a face counts as on it [m]. */
const ON_FACE = 0.05;
const SOLID: readonly MeshRole[] = ['hull', 'appendage', ...STEEL];

export class Aim {
  private readonly ray = new Raycaster();
  private readonly look: AimView;
  private readonly pieces: readonly PartMesh[];
  /** Distance to what hides all behind it. */
  private readonly hidden: number;

  /** Through a point of the canvas, (-1, -1) to (1, 1). */
  constructor(look: AimView, [x, y]: readonly [number, number], pieces: readonly PartMesh[]) {
    this.ray.setFromCamera(new Vector2(x, y), look.camera);
    this.look = look;
    this.pieces = pieces;
    this.hidden = Infinity;
    if (!look.isThrough) this.hidden = (this.first(['hull'])?.distance ?? Infinity) + ON_PLATING;
  }

  /** The new piece, or else the replaced one. */
  steel(): string | undefined {
    const hit = this.first(['new']) ?? this.first(['replaced']);
    return hit && this.pieceOf(hit)?.id;
  }

  /** Where it meets the boat, still as she is drawn. */
  spot(): Spot | undefined {
    for (const roles of LAYERS) {
      const hit = this.first(roles);
      const piece = hit && this.pieceOf(hit);
      if (hit && piece) return this.spotOn(piece, hit);
    }
    return undefined;
  }

  /** Whether the point it goes through lies behind something, or is cut away. */
  hides(point: Vector3): boolean {
    if (this.look.isThrough) return false;
    const before = this.first(SOLID)?.distance ?? Infinity;
    return !this.seen(point) || before < this.ray.ray.origin.distanceTo(point) - ON_FACE;
  }

  private spotOn(piece: PartMesh, hit: Intersection): Spot {
    const corner = this.corner(piece, hit.point);
    const { x, y, z } = piece.root.worldToLocal((corner ?? hit.point).clone());
    return {
      piece: piece.id,
      plate: piece.plateAt(hit.faceIndex ?? -1),
      point: [round(x), round(-z), round(y)],
      within: corner ? 0 : 1 / this.look.perMetre,
    };
  }

  private first(roles: readonly MeshRole[]): Intersection | undefined {
    const meant = this.pieces.filter((piece) => roles.includes(piece.role));
    const surfaces = meant.map((piece) => piece.surface);
    return this.ray
      .intersectObjects(surfaces, false)
      .find((hit) => hit.distance <= this.hidden && this.seen(hit.point) && !this.isOpen(hit));
  }

  /** The corner of a piece that is nearest to the ray, where one is near what was hit. */
  private corner(piece: PartMesh, hit: Vector3): Vector3 | undefined {
    const reach = REACH_PX / this.look.perMetre;
    const away = (corner: Vector3) => this.ray.ray.distanceToPoint(corner);
    return piece
      .corners()
      .filter((one) => one.distanceTo(hit) < ASIDE * reach && this.seen(one))
      .reduce<Vector3 | undefined>(
        (best, one) => (away(one) < (best ? away(best) : reach) ? one : best),
        undefined,
      );
  }

  private seen(point: Vector3): boolean {
    return this.look.cuts.every((plane) => plane.distanceToPoint(point) >= 0);
  }

  /** Whether the deck is cut away where it was hit. */
  private isOpen(hit: Intersection): boolean {
    const piece = this.pieceOf(hit);
    if (!(piece && isHull(piece.role) && (hit.normal?.y ?? 0) > 0.6)) return false;
    const { x, y, z } = piece.root.worldToLocal(hit.point.clone());
    return (
      y > 0 && this.look.openings.some(([x0, y0, x1, y1]) => x > x0 && x < x1 && -z > y0 && -z < y1)
    );
  }

  private pieceOf(hit: Intersection): PartMesh | undefined {
    return this.pieces.find((piece) => piece.surface === hit.object);
  }
}

/** To the millimetre; never minus zero. */
const round = (metres: number) => Math.round(metres * 1000) / 1000 + 0;
