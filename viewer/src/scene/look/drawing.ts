/** Draws the scene on the canvas: plainly while she moves, averaged while she lies still. */
import {
  type OrthographicCamera,
  PCFShadowMap,
  type Plane,
  Scene,
  Vector2,
  WebGLRenderer,
} from 'three';
import { FrameLoop, ON_SCREEN } from '../frame-loop.ts';
import { GpuFence } from '../gpu-fence.ts';
import { Average } from './average.ts';
import { type DrawingLook, isSoftware, Ladder, RUNGS, type Rung } from './ladder.ts';
import { Lamps } from './lamps.ts';

interface DrawingMeans {
  readonly camera: () => OrthographicCamera;
  /** Called before each picture, with how it is to look. */
  readonly prepare: (look: DrawingLook) => void;
  readonly drawn: () => void;
}

/** Shadow maps: with a graphics processor, and without [px]. */
const MAP_PX = { full: 2048, software: 1024 } as const;
const MOST_RATIO = 2;
/** Samples of a still picture: the fewer the slower they come. */
const STILL = {
  full: { wanted: 64, hasDome: true },
  software: { wanted: 8, hasDome: false },
  plain: { wanted: 6, hasDome: false },
} as const;

export class Drawing {
  readonly scene = new Scene();
  readonly lamps: Lamps;
  readonly ladder: Ladder;
  frames = 0;
  /** While true nothing is drawn: measurements leave the renderer out with it. */
  isHalted = false;
  private readonly means: DrawingMeans;
  private readonly renderer: WebGLRenderer;
  private readonly average: Average;
  private readonly fence: GpuFence;
  private readonly loop: FrameLoop;

  /** Throws where the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement, means: DrawingMeans) {
    this.means = means;
    const software = isSoftware();
    this.ladder = new Ladder(software ? 'software' : 'full');
    // the machine's own processor smooths edges by averaging, at rest: a third of a frame
    this.renderer = new WebGLRenderer({ canvas, antialias: !software, alpha: true });
    this.renderer.setPixelRatio(Math.min(MOST_RATIO, devicePixelRatio));
    Object.assign(this.renderer.shadowMap, { enabled: true, type: PCFShadowMap });
    this.renderer.shadowMap.autoUpdate = false;
    this.lamps = new Lamps(software ? MAP_PX.software : MAP_PX.full);
    this.scene.add(this.lamps.root);
    this.average = new Average(this.renderer, this.scene, this.lamps);
    this.fence = new GpuFence(this.renderer);
    this.loop = new FrameLoop({
      draw: () => this.draw(),
      finished: () => this.fence.isPassed,
      improve: () => this.improve(),
      took: (ms) => this.judge(ms),
      ...ON_SCREEN,
    });
  }

  get rung(): Rung {
    return this.ladder.rung;
  }

  get cuts(): readonly Plane[] {
    return this.renderer.clippingPlanes;
  }

  set cuts(planes: readonly Plane[]) {
    this.renderer.clippingPlanes = [...planes];
  }

  /** What pictures beside the page's own are made of. */
  get studio() {
    const { scene, lamps, cuts } = this;
    return { scene, lamps, cuts, samples: STILL[this.rung], antialias: this.rung === 'full' };
  }

  /** Asks for a new picture; one that the hand turns does not rest. */
  ask(how?: 'soon' | 'now'): void {
    this.loop.ask(how);
  }

  /** Shadows are drawn anew when she or the light has changed, not when the eye turns. */
  shadowsMoved(): void {
    this.renderer.shadowMap.needsUpdate = true;
  }

  /** Follows the size of the canvas; true where it is another one. */
  fit(width: number, height: number): void {
    const { x, y } = this.renderer.getSize(new Vector2());
    if (x === width && y === height) {
      this.ask();
      return;
    }
    this.renderer.setSize(width, height, false); // which wipes the picture
    this.draw();
  }

  describe() {
    const { triangles, calls } = this.renderer.info.render;
    return {
      frames: this.frames,
      samples: this.average.taken,
      drawn: this.rung,
      tookMs: this.ladder.took,
      triangles,
      calls,
      geometries: this.renderer.info.memory.geometries,
    };
  }

  dispose(): void {
    this.loop.stop();
    this.average.dispose();
    this.lamps.dispose();
    this.renderer.dispose();
  }

  private draw(): void {
    if (this.isHalted) return;
    if (this.average.taken > 0) this.shadowsMoved();
    this.average.reset();
    this.prepare(RUNGS[this.rung].moving);
    this.renderer.render(this.scene, this.means.camera());
    this.frames += 1;
    this.fence.raise();
    this.means.drawn();
  }

  /** One more picture towards soft light. */
  private improve(): boolean {
    if (this.isHalted) return false;
    const { moving, resting, samples } = RUNGS[this.rung];
    if (this.average.taken >= samples.wanted) return false;
    const camera = this.means.camera();
    if (this.average.taken === 0) {
      this.prepare(moving);
      this.average.begin(camera);
    }
    this.prepare(resting);
    this.average.step(camera, samples);
    this.fence.raise();
    return true;
  }

  private prepare(look: DrawingLook): void {
    this.lamps.hasShadows = look.shadows;
    this.means.prepare(look);
  }

  private judge(ms: number): void {
    if (!this.ladder.judge(ms)) return;
    if (this.rung === 'plain') this.renderer.setPixelRatio(1);
    this.ask();
  }
}
