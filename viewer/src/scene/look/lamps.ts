/** Sun, sky and what the ground throws back. */
import { DirectionalLight, Group, HemisphereLight, Vector3 } from 'three';

/** Strengths: of the sun, of the sky, and how much of the sky reaches every corner. */
const SUN = 2.7;
const SKY = 2.0;
const LEAK = 0.3;
/** The sun is so wide, as seen from her: what softens the rims of shadows [radians]. */
const SUN_WIDTH = 0.14;
const SUN_FROM = new Vector3(-0.42, 0.58, 0.7).normalize();

export class Lamps {
  readonly root = new Group();
  private readonly sun = new DirectionalLight('#fff8ec', SUN);
  /** One lamp of the dome, while many pictures are averaged. */
  private readonly dome = new DirectionalLight('#eaf3fa', 0);
  private readonly air = new HemisphereLight('#eaf3fa', '#cfc8b8', SKY);
  private readonly middle = new Vector3();
  private reach = 10;

  constructor(mapSize: number) {
    for (const [lamp, size] of [
      [this.sun, mapSize],
      [this.dome, 1024],
    ] as const) {
      lamp.castShadow = true;
      lamp.shadow.mapSize.set(size, size);
      lamp.shadow.bias = -0.0006;
      lamp.shadow.normalBias = 0.018;
      this.root.add(lamp, lamp.target);
    }
    this.root.add(this.air);
    this.reset();
  }

  /** Lights all within a reach of a point [m]. */
  around(middle: Vector3, reach: number): void {
    this.middle.copy(middle);
    this.reach = reach;
    for (const { shadow } of [this.sun, this.dome]) {
      const edge = reach * 1.05;
      Object.assign(shadow.camera, { left: -edge, right: edge, top: edge, bottom: -edge });
      Object.assign(shadow.camera, { near: reach * 0.2, far: reach * 3.8 });
      shadow.camera.updateProjectionMatrix();
      shadow.normalBias = reach * 0.0022;
    }
    this.reset();
  }

  /** A shadow that is stale is worse than none: without it the lamp has no map to be asked. */
  set hasShadows(is: boolean) {
    this.sun.castShadow = is;
  }

  /** As they shine while she moves. */
  reset(): void {
    this.place(this.sun, SUN_FROM);
    this.dome.visible = false;
    this.air.intensity = SKY;
  }

  /** As they shine in one of many pictures: the sun a little aside, the sky from another side. */
  vary(i: number, hasDome: boolean): void {
    const [u, v] = [halton(i + 1, 2) - 0.5, halton(i + 1, 3) - 0.5];
    this.place(this.sun, SUN_FROM.clone().add(new Vector3(u, 0, v).multiplyScalar(SUN_WIDTH)));
    this.dome.visible = hasDome;
    if (!hasDome) return;
    // heights in an order that is spread at any time; near the horizon they paint bands
    const height = 0.12 + 0.88 * halton(i + 1, 2);
    const turn = 2 * Math.PI * ((i * 0.618034) % 1);
    const across = Math.sqrt(1 - height * height);
    this.place(this.dome, new Vector3(across * Math.cos(turn), height, across * Math.sin(turn)));
    this.dome.intensity = 2 * SKY * (1 - LEAK);
    this.air.intensity = SKY * LEAK;
  }

  dispose(): void {
    this.sun.dispose();
    this.dome.dispose();
  }

  private place(lamp: DirectionalLight, from: Vector3): void {
    lamp.position
      .copy(from)
      .multiplyScalar(2 * this.reach)
      .add(this.middle);
    lamp.target.position.copy(this.middle);
  }
}

/** Numbers below one that are evenly spread however many are taken. */
export function halton(i: number, base: number): number {
  let [part, sum] = [1, 0];
  for (let n = i; n > 0; n = Math.floor(n / base)) {
    part /= base;
    sum += part * (n % base);
  }
  return sum;
}
