/** The pieces that are drawn: which are there, how they are coloured, picked and seen through. */
import type { Group } from 'three';
import type { Finishes, Opening } from './look/finishes.ts';
import { FIRST_PALETTE, type Palette } from './look/palette.ts';
import { drawnAs, isHull } from './look/roles.ts';
import { type Lit, type Paint, PartMesh } from './part-mesh.ts';

/** One mesh as the server lists it. */
export interface SceneEntry extends Pick<PartMesh, 'id' | 'role' | 'mesh'> {
  /** Where the deck is open for it, in plan. */
  readonly opens_m?: readonly Opening[];
}

/** What came of showing pieces. */
interface Shown {
  readonly isFirst: boolean;
  readonly hasHull: boolean;
  readonly isNew: boolean;
}

export class Pieces {
  palette = FIRST_PALETTE;
  isThrough = false;
  private readonly meshes = new Map<string, PartMesh>();
  private readonly wanted = new Map<string, string>();
  private readonly boat: Group;
  private readonly finishes: Finishes;
  private readonly changed: () => void;
  private paints: ReadonlyMap<string, Paint> = new Map();
  private selection: ReadonlySet<string> = new Set();
  private lit: Lit | undefined;
  private isOver = false;
  /** From where the outlines that are drawn are seen, and of which pieces. */
  private faced: readonly unknown[] = [];

  /** Draws them in the boat's group; tells when one comes or goes. */
  constructor(boat: Group, finishes: Finishes, changed: () => void) {
    this.boat = boat;
    this.finishes = finishes;
    this.changed = changed;
  }

  get all(): readonly PartMesh[] {
    return [...this.meshes.values()];
  }

  of(id: string): PartMesh | undefined {
    return this.meshes.get(id);
  }

  /** Shows these and no others; only meshes that are new are asked for. */
  async show(
    listed: readonly SceneEntry[],
    mesh: (path: string) => Promise<ArrayBuffer>,
  ): Promise<Shown> {
    this.wanted.clear();
    const standing = listed.filter(({ role }) => role === 'new' || role === 'existing');
    this.finishes.open(standing.flatMap((one) => one.opens_m ?? []));
    for (const one of listed) this.wanted.set(one.id, drawnAs(one));
    for (const id of this.meshes.keys()) if (!this.wanted.has(id)) this.drop(id);
    const missing = listed.filter((one) => {
      const there = this.meshes.get(one.id);
      return !there || drawnAs(there) !== drawnAs(one);
    });
    const isFirst = this.meshes.size === 0;
    await Promise.all(
      missing.map(async (one) => {
        const piece = PartMesh.of(one, await mesh(one.mesh), this.finishes);
        if (this.wanted.get(one.id) === drawnAs(piece) && !this.isOver) this.put(piece);
        else piece.dispose();
      }),
    );
    return {
      isFirst,
      hasHull: missing.some(({ role }) => isHull(role)),
      isNew: missing.length > 0,
    };
  }

  /** Colours by id; what has none is drawn plain. */
  paint(paints: ReadonlyMap<string, Paint>, palette: Palette): void {
    this.paints = paints;
    this.palette = palette;
    this.dress(palette);
  }

  /** The same colours on another paper, until they are painted again. */
  dress(palette: Palette): void {
    for (const [id, piece] of this.meshes) piece.paint(this.paints.get(id) ?? {}, palette);
  }

  through(on: boolean): void {
    this.isThrough = on;
    for (const piece of this.meshes.values()) piece.through(on);
  }

  select(ids: ReadonlySet<string>): void {
    this.selection = ids;
    for (const [id, piece] of this.meshes) piece.select(ids.has(id));
  }

  /** Lights one plate or its part, and no other. */
  light(lit: Lit | undefined): void {
    this.lit = lit;
    for (const piece of this.meshes.values()) piece.light(lit, this.palette.touch);
  }

  /** Draws outlines as they are seen from a direction, in the boat's axes. */
  face(direction: readonly number[]): void {
    const seen = [...direction.map((v) => v.toFixed(4)), ...this.meshes.values()];
    if (seen.length !== this.faced.length || seen.some((one, i) => one !== this.faced[i]))
      for (const piece of this.meshes.values()) piece.face(direction);
    this.faced = seen;
  }

  dispose(): void {
    this.isOver = true;
    for (const piece of this.meshes.values()) piece.dispose();
    this.meshes.clear();
  }

  private put(piece: PartMesh): void {
    this.drop(piece.id);
    this.meshes.set(piece.id, piece);
    piece.paint(this.paints.get(piece.id) ?? {}, this.palette);
    piece.select(this.selection.has(piece.id));
    piece.light(this.lit, this.palette.touch);
    piece.through(this.isThrough);
    this.boat.add(piece.root);
    this.changed();
  }

  private drop(id: string): void {
    const piece = this.meshes.get(id);
    if (!piece) return;
    piece.dispose();
    this.meshes.delete(id);
    this.changed();
  }
}
