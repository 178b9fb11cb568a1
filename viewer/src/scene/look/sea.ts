/** A calm sea that fades to the paper, left open where the hull is, and the boat's shadow on it. */
import {
  BufferGeometry,
  DoubleSide,
  Float32BufferAttribute,
  Group,
  type Matrix4,
  Mesh,
  MeshBasicMaterial,
  ShadowMaterial,
  ShapeUtils,
  Vector2,
} from 'three';
import { turnOf } from '../../shared/shapes/chains.ts';
import type { Palette } from './palette.ts';

/** Along and across the level, what the sea must surround [m]. */
export interface Extent {
  readonly x0: number;
  readonly x1: number;
  readonly halfBreadth: number;
}

type Loop = readonly (readonly [number, number])[];

/** How far the sea reaches beyond her, in her half-lengths; across it is narrower. */
const REACH = 1.75;
const NARROWER = 0.62;
const RIM_POINTS = 40;

export class Sea {
  readonly root = new Group();
  private readonly middle = { value: new Vector2() };
  private readonly half = { value: new Vector2(1, 1) };
  private holes: readonly Loop[] = [];
  private readonly water: Mesh<BufferGeometry, MeshBasicMaterial>;
  private readonly shadow: Mesh<BufferGeometry, ShadowMaterial>;

  constructor() {
    const look = { transparent: true, depthWrite: false, side: DoubleSide } as const;
    const water = new MeshBasicMaterial(look);
    water.onBeforeCompile = (shader) => {
      Object.assign(shader.uniforms, { uHalf: this.half, uMiddle: this.middle });
      shader.vertexShader = `varying vec2 vAway; uniform vec2 uHalf, uMiddle;\n${shader.vertexShader}`;
      shader.vertexShader = shader.vertexShader.replace(
        '#include <begin_vertex>',
        '#include <begin_vertex>\nvAway = (position.xz - uMiddle) / uHalf;',
      );
      shader.fragmentShader = `varying vec2 vAway;\n${shader.fragmentShader}`.replace(
        '#include <color_fragment>',
        'diffuseColor.a *= 1.0 - smoothstep(0.3, 1.0, length(vAway));',
      );
    };
    this.water = new Mesh(new BufferGeometry(), water);
    this.water.renderOrder = 4;
    this.shadow = new Mesh(this.water.geometry, new ShadowMaterial({ depthWrite: false }));
    this.shadow.renderOrder = 5;
    this.shadow.receiveShadow = true;
    this.root.matrixAutoUpdate = false;
    this.root.add(this.water, this.shadow);
  }

  /** Whether she throws her shadow on it: half the sea's cost. */
  set hasShadow(is: boolean) {
    this.shadow.visible = is;
  }

  /** As it lies, for pictures made without the shader. */
  get shape() {
    const { x, y } = this.middle.value;
    const half = [this.half.value.x, this.half.value.y] as const;
    const onBoat = this.root.matrix.clone();
    const colour = `#${this.water.material.color.getHexString()}`;
    return { onBoat, middle: [x, y] as const, half, holes: this.holes, colour };
  }

  paint(palette: Palette): void {
    this.water.material.color.set(palette.sea);
    this.water.material.opacity = 0.5;
    this.shadow.material.opacity = palette.isDark ? 0.3 : 0.13;
  }

  /** Lays it around her; `holes` are where the hull goes through it, (x, z) along the level. */
  lie(onBoat: Matrix4, { x0, x1, halfBreadth }: Extent, holes: readonly Loop[]): void {
    this.holes = holes;
    const half = ((x1 - x0) / 2) * REACH;
    const across = Math.max(half * NARROWER, halfBreadth * 2.4);
    const middle = (x0 + x1) / 2;
    this.half.value.set(half, across);
    this.middle.value.set(middle, 0);
    const rim = Array.from({ length: RIM_POINTS }, (_, i) => {
      const turn = (2 * Math.PI * i) / RIM_POINTS;
      return new Vector2(middle + half * Math.cos(turn), across * Math.sin(turn));
    });
    const open = holes.map((loop) => loop.map(([x, z]) => new Vector2(x, z)));
    const triangles = ShapeUtils.triangulateShape(rim, open);
    const positions = [rim, ...open].flat().flatMap(({ x, y }) => [x, 0, y]);
    this.water.geometry.dispose();
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new Float32BufferAttribute(positions, 3));
    geometry.setAttribute('normal', new Float32BufferAttribute(upright(positions.length), 3));
    geometry.setIndex(triangles.flat());
    this.water.geometry = geometry;
    this.shadow.geometry = geometry;
    this.root.matrix.copy(onBoat);
    this.root.matrixWorldNeedsUpdate = true;
  }

  dispose(): void {
    this.water.geometry.dispose();
    this.water.material.dispose();
    this.shadow.material.dispose();
  }
}

const upright = (length: number) => Array.from({ length }, (_, i) => (i % 3 === 1 ? 1 : 0));

/** Where the hull goes through the water: its outlines but those inside another. */
export function holesOf(loops: readonly Loop[]): readonly Loop[] {
  const largest = loops.toSorted((a, b) => Math.abs(turnOf(b)) - Math.abs(turnOf(a)));
  const apart: Loop[] = [];
  for (const loop of largest) {
    const first = loop[0];
    if (first && Math.abs(turnOf(loop)) > SMALL && !apart.some((one) => isInside(one, first)))
      apart.push(loop);
  }
  return apart;
}

/** Twice an area that is not worth a hole [m²]. */
const SMALL = 0.02;

function isInside(loop: Loop, [u, v]: readonly [number, number]): boolean {
  let inside = false;
  for (const [i, [a, b]] of loop.entries()) {
    const [p, q] = loop[(i + 1) % loop.length] ?? [a, b];
    if (b > v !== q > v && u < a + ((v - b) / (q - b)) * (p - a)) inside = !inside;
  }
  return inside;
}
