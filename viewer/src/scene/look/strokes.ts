/** Lines in three weights, a little in front of what they are drawn on. */
import {
  BufferGeometry,
  Float32BufferAttribute,
  Group,
  LineBasicMaterial,
  LineDashedMaterial,
  LineSegments,
} from 'three';
import { LineMaterial } from 'three/addons/lines/LineMaterial.js';
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js';
import type { ReadGlb } from '../../shared/shapes/glb.ts';
import { isGone, isHull, type MeshRole } from './roles.ts';

/** The three weights [px]: the boat's outline, edges of plates, what is only marked. */
export const WEIGHTS = { outline: 1.9, edge: 1.05, fine: 0.7 } as const;

interface StrokeLook {
  readonly width: number;
  readonly opacity?: number;
  /** Length of a dash and of a gap [m]; a full line without. */
  readonly dash?: readonly [number, number];
  /** Seen through everything. */
  readonly through?: boolean;
  /** Towards the eye, in the depth of the picture; a negative one keeps it behind faces. */
  readonly nearer?: number;
  readonly order?: number;
}

const NEARER = 1.6e-4;

/**
 * A run of segments of one ink: of its own width, or of one pixel as the graphics processor draws
 * them, which costs a tenth.
 */
export class Stroke {
  readonly root = new Group();
  readonly look: StrokeLook;
  ends: Float32Array;
  private broad: LineSegments2 | undefined;
  private thin: LineSegments<BufferGeometry, LineBasicMaterial> | undefined;
  private isBroad = true;
  private colour = '#000';
  private times = 1;
  private longer = 1;

  constructor(look: StrokeLook, ends: ArrayLike<number> = []) {
    this.look = look;
    this.ends = Float32Array.from(ends);
    this.shown();
  }

  /** Puts other segments in its place, with dashes so many times as long. */
  redraw(ends: ArrayLike<number>, longer = 1): void {
    this.longer = longer;
    this.ends = Float32Array.from(ends);
    this.forget();
    this.shown();
  }

  ink(colour: string): void {
    this.colour = colour;
    this.broad?.material.color.set(colour);
    this.thin?.material.color.set(colour);
  }

  /** Of its own width, so many times as broad, or of one pixel. */
  weigh(isBroad: boolean, times = 1): void {
    this.times = times;
    if (this.broad) this.broad.material.linewidth = this.look.width * times;
    if (this.isBroad === isBroad) return;
    this.isBroad = isBroad;
    this.shown();
  }

  get isShown(): boolean {
    return this.root.visible;
  }

  /** Length of a dash and of a gap [m]. */
  get dash(): readonly [number, number] | undefined {
    const { dash } = this.look;
    return dash && [dash[0] * this.longer, dash[1] * this.longer];
  }

  get inkColour(): string {
    return this.colour;
  }

  dispose(): void {
    this.forget();
    this.broad?.material.dispose();
    this.thin?.material.dispose();
    this.root.removeFromParent();
  }

  private forget(): void {
    this.broad?.geometry.dispose();
    this.thin?.geometry.dispose();
    this.broad?.removeFromParent();
    this.thin?.removeFromParent();
    this.broad = undefined;
    this.thin = undefined;
  }

  private shown(): void {
    if (this.broad) this.broad.visible = this.isBroad;
    if (this.thin) this.thin.visible = !this.isBroad;
    if (this.ends.length === 0) return;
    if (this.isBroad && !this.broad) this.root.add(this.ruledBroad());
    if (!this.isBroad && !this.thin) this.root.add(this.ruledThin());
  }

  private ruledBroad(): LineSegments2 {
    const geometry = new LineSegmentsGeometry().setPositions(this.ends);
    const one = new LineSegments2(geometry, broadMaterial(this.look, this.times));
    one.material.color.set(this.colour);
    if (this.look.dash) one.computeLineDistances();
    one.frustumCulled = false;
    one.renderOrder = this.look.order ?? 3;
    one.material.dashScale = 1 / this.longer;
    this.broad = one;
    return one;
  }

  private ruledThin(): LineSegments {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new Float32BufferAttribute(this.ends, 3));
    const one = new LineSegments(geometry, thinMaterial(this.look));
    one.material.color.set(this.colour);
    if (this.look.dash) one.computeLineDistances();
    one.renderOrder = this.look.order ?? 3;
    if (one.material instanceof LineDashedMaterial) one.material.scale = 1 / this.longer;
    this.thin = one;
    return one;
  }
}

/** A straight shift in depth: an offset by polygon would grow with the slope of a thin quad. */
const shift = ({ nearer = NEARER }: StrokeLook) => nearer.toExponential();

function broadMaterial(look: StrokeLook, times: number): LineMaterial {
  const { width, opacity = 1, dash, through } = look;
  const material = new LineMaterial({
    linewidth: width * times,
    transparent: true,
    opacity,
    depthWrite: false,
    dashed: dash !== undefined,
    dashSize: dash?.[0] ?? 1,
    gapSize: dash?.[1] ?? 1,
  });
  material.depthTest = !through;
  material.vertexShader = material.vertexShader.replace(
    'gl_Position = clip;',
    `clip.z -= ${shift(look)} * clip.w; gl_Position = clip;`,
  );
  return material;
}

function thinMaterial(look: StrokeLook): LineBasicMaterial {
  const { opacity = 1, dash, through } = look;
  const common = { transparent: opacity < 1, opacity, depthWrite: false };
  const material = dash
    ? new LineDashedMaterial({ ...common, dashSize: dash[0], gapSize: dash[1] })
    : new LineBasicMaterial(common);
  material.depthTest = !through;
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader.replace(
      '#include <fog_vertex>',
      `gl_Position.z -= ${shift(look)} * gl_Position.w;\n#include <fog_vertex>`,
    );
  };
  material.customProgramCacheKey = () => `stroke ${shift(look)}`;
  return material;
}

/** The lines of a piece by weight: plates strong, bars fine and behind plate, what is gone dashed. */
export function strokesOf(role: MeshRole, { edges, bars }: ReadGlb): readonly Stroke[] {
  const made = (look: ConstructorParameters<typeof Stroke>[0], ends: Float32Array) =>
    ends.length > 0 ? [new Stroke(look, ends)] : [];
  if (isGone(role)) {
    const dash = [0.085, 0.06] as const;
    const look = { width: WEIGHTS.edge, dash, opacity: 0.85, through: role === 'before' };
    return made(look, Float32Array.from([...edges, ...bars]));
  }
  if (isHull(role)) return made({ width: WEIGHTS.fine, opacity: 0.5 }, edges);
  return [
    ...made({ width: WEIGHTS.edge }, edges),
    ...made({ width: WEIGHTS.fine, opacity: 0.6, nearer: -2e-3 }, bars),
  ];
}
