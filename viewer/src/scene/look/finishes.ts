/** Paint on the hull and water over it: shaders that follow the water, with no new mesh. */
import {
  Color,
  DoubleSide,
  type Material,
  MeshDepthMaterial,
  MeshLambertMaterial,
  MeshStandardMaterial,
  RGBADepthPacking,
  Vector3,
  Vector4,
} from 'three';
import { directionsOf, type Level } from '../../shared/boat/level.ts';
import { FIRST_PALETTE, type Palette } from './palette.ts';
import { DECLARED, MOST_OPENINGS, PAINTED, UNDER_WATER, WELLS, withBoatPlace } from './shaders.ts';

/** (x0, y0, x1, y1) in plan, in the boat's frame [m]: where the deck is open. */
export type Opening = readonly [number, number, number, number];

/** Breadth of the boot-top, of her waterline: 85 mm on ten metres. */
const BOOT_TOP = 0.0085;
const NARROWEST_M = 0.04;
const BROADEST_M = 0.18;

/** With a sheen where there is a graphics processor, without where there is none. */
export type Finish = MeshStandardMaterial | MeshLambertMaterial;

/** Faces lie a little behind the lines on them. */
const BEHIND = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 } as const;

/** What every material of the boat shares. */
export class Finishes {
  private readonly sheen: boolean;
  private readonly shared = {
    uUp: { value: new Vector3(0, 1, 0) },
    /** Far below her until she floats. */
    uOffset: { value: -1e3 },
    uPaintUp: { value: new Vector3(0, 1, 0) },
    uPaintOffset: { value: 0 },
    uBand: { value: 0.085 },
    uTopsides: { value: new Color() },
    uBootTop: { value: new Color() },
    uAntifouling: { value: new Color() },
    uDeck: { value: new Color() },
    uDeep: { value: new Color() },
    uOpenings: { value: Array.from({ length: MOST_OPENINGS }, () => new Vector4()) },
    uOpeningCount: { value: 0 },
  };
  /** What is open, for pictures made without the shader. */
  openings: readonly Opening[] = [];
  palette = FIRST_PALETTE;
  painted: Level = { heel: 0, trim: 0, offset: 0 };

  constructor(sheen: boolean) {
    this.sheen = sheen;
  }

  colours(palette: Palette): void {
    this.palette = palette;
    this.shared.uTopsides.value.set(palette.topsides);
    this.shared.uBootTop.value.set(palette.bootTop);
    this.shared.uAntifouling.value.set(palette.antifouling);
    this.shared.uDeck.value.set(palette.deck);
    this.shared.uDeep.value.set(palette.deep);
  }

  /** Breadth of the boot-top, above the water she is painted to [m]. */
  get bootTop(): number {
    return this.shared.uBand.value;
  }

  /** Where the water lies on her, and to which water she is painted. */
  float(now: Level, painted: Level, length: number): void {
    this.painted = painted;
    this.shared.uBand.value = Math.min(BROADEST_M, Math.max(NARROWEST_M, length * BOOT_TOP));
    lay(now, this.shared.uUp.value, this.shared.uOffset);
    lay(painted, this.shared.uPaintUp.value, this.shared.uPaintOffset);
  }

  /** Cuts the deck open; of more than the shader takes, the largest. */
  open(openings: readonly Opening[]): void {
    const area = ([x0, y0, x1, y1]: Opening) => (x1 - x0) * (y1 - y0);
    this.openings = openings.toSorted((a, b) => area(b) - area(a)).slice(0, MOST_OPENINGS);
    this.shared.uOpeningCount.value = this.openings.length;
    for (const [i, [x0, y0, x1, y1]] of this.openings.entries())
      this.shared.uOpenings.value[i]?.set(x0, -y1, x1, -y0);
  }

  /** The material of a hull or an appendage, and what it casts a shadow with. */
  hull(): readonly [Finish, Material] {
    const made = this.made({ ...BEHIND, side: DoubleSide }, { roughness: 0.42, metalness: 0 });
    this.into(made, 'hull');
    const depth = new MeshDepthMaterial({ depthPacking: RGBADepthPacking, side: DoubleSide });
    // a hull left out in colour alone would still shade its own well
    depth.onBeforeCompile = (shader) => {
      Object.assign(shader.uniforms, this.shared);
      shader.vertexShader = withBoatPlace(shader.vertexShader);
      shader.fragmentShader = `${DECLARED}${shader.fragmentShader}`.replace(
        'void main() {',
        `void main() {${WELLS}`,
      );
    };
    return [made, depth];
  }

  /** Plate: a quiet sheen of steel over the colour of its effect. */
  steel(): Finish {
    const look = { ...BEHIND, side: DoubleSide, flatShading: true } as const;
    const made = this.made(look, { roughness: 0.5, metalness: 0.22 });
    this.into(made, 'steel');
    return made;
  }

  /** A dark pane. */
  glass(): Finish {
    const look = { ...BEHIND, side: DoubleSide, flatShading: true } as const;
    const made = this.made(look, { roughness: 0.12, metalness: 0.1 });
    this.into(made, 'steel');
    return made;
  }

  private made(
    look: ConstructorParameters<typeof MeshLambertMaterial>[0],
    sheen: { readonly roughness: number; readonly metalness: number },
  ): Finish {
    return this.sheen
      ? new MeshStandardMaterial({ ...look, ...sheen })
      : new MeshLambertMaterial(look);
  }

  private into(material: Material, kind: 'hull' | 'steel'): void {
    material.onBeforeCompile = (shader) => {
      Object.assign(shader.uniforms, this.shared);
      shader.vertexShader = withBoatPlace(shader.vertexShader);
      const fragments = `${DECLARED}${shader.fragmentShader}`;
      shader.fragmentShader = (
        kind === 'hull' ? fragments.replace('#include <color_fragment>', PAINTED) : fragments
      ).replace('#include <opaque_fragment>', UNDER_WATER);
    };
    material.customProgramCacheKey = () => `finish ${kind}`;
  }
}

function lay(level: Level, up: Vector3, offset: { value: number }): void {
  const [x, y, z] = directionsOf(level).up;
  up.set(x, z, -y);
  offset.value = level.offset;
}
