/**
 * Soft light while nothing moves: the same picture again and again, each with the sun a little
 * aside, the sky from another side and half a pixel shifted, and the mean of them all. What comes
 * out is edges without steps, the sun's penumbra and the shade in corners, with no ray traced.
 */
import {
  AddEquation,
  CustomBlending,
  FramebufferTexture,
  HalfFloatType,
  type IUniform,
  Mesh,
  NoBlending,
  OneFactor,
  OrthographicCamera,
  PlaneGeometry,
  Scene,
  ShaderMaterial,
  Vector2,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three';
import { halton, type Lamps } from './lamps.ts';

const VERTEX =
  'varying vec2 vAt; void main() { vAt = uv; gl_Position = vec4(position.xy, 0.0, 1.0); }';
const ADD =
  'uniform sampler2D uOne; uniform float uShare; varying vec2 vAt; void main() { gl_FragColor = texture2D(uOne, vAt) * uShare; }';
const SHOW =
  'uniform sampler2D uSum, uFirst; uniform float uWhole, uIn; varying vec2 vAt; void main() { gl_FragColor = mix(texture2D(uFirst, vAt), texture2D(uSum, vAt) * uWhole, uIn); }';

interface Textures {
  /** The picture as it was while she moved, one of the samples, and their sum. */
  readonly first: FramebufferTexture;
  readonly one: FramebufferTexture;
  readonly sum: WebGLRenderTarget;
}

/** How many pictures are averaged, and whether the sky casts shadows in them. */
export interface Samples {
  readonly wanted: number;
  readonly hasDome: boolean;
}

export class Average {
  /** Samples taken of the picture as it is. */
  taken = 0;
  private readonly renderer: WebGLRenderer;
  private readonly scene: Scene;
  private readonly lamps: Lamps;
  private readonly quad = new Scene();
  private readonly flat = new OrthographicCamera(-1, 1, 1, -1, 0, 1);
  private readonly adding: Pass;
  private readonly showing: Pass;
  private textures: Textures | undefined;

  constructor(renderer: WebGLRenderer, scene: Scene, lamps: Lamps) {
    this.renderer = renderer;
    this.scene = scene;
    this.lamps = lamps;
    const onto = { depthTest: false, depthWrite: false, vertexShader: VERTEX };
    this.adding = new Pass({
      ...onto,
      fragmentShader: ADD,
      uniforms: { uOne: { value: null }, uShare: { value: 1 } },
      blending: CustomBlending,
      blendEquation: AddEquation,
      blendSrc: OneFactor,
      blendDst: OneFactor,
    });
    this.showing = new Pass({
      ...onto,
      fragmentShader: SHOW,
      uniforms: {
        uSum: { value: null },
        uFirst: { value: null },
        uWhole: { value: 1 },
        uIn: { value: 1 },
      },
      blending: NoBlending,
    });
  }

  /** Begins anew: what is drawn has changed. */
  reset(): void {
    this.taken = 0;
  }

  /** Takes the picture that the mean comes in over. */
  begin(camera: OrthographicCamera): void {
    const { renderer } = this;
    const { first, sum } = this.fitted(renderer.getDrawingBufferSize(new Vector2()));
    renderer.render(this.scene, camera);
    renderer.copyFramebufferToTexture(first);
    renderer.setRenderTarget(sum);
    renderer.setClearColor(0, 0);
    renderer.clear();
    renderer.setRenderTarget(null);
  }

  /** Takes one more sample and shows the mean. */
  step(camera: OrthographicCamera, { wanted, hasDome }: Samples): void {
    const { renderer } = this;
    const size = renderer.getDrawingBufferSize(new Vector2());
    const { first, one, sum } = this.fitted(size);
    this.sample(camera, size, hasDome);
    renderer.copyFramebufferToTexture(one);
    this.pass(this.adding, { uOne: one, uShare: 1 / wanted }, sum);
    this.taken += 1;
    const share = this.taken / wanted;
    const values = { uSum: sum.texture, uFirst: first, uWhole: 1 / share, uIn: fadedIn(share) };
    this.pass(this.showing, values, null);
  }

  dispose(): void {
    this.forget();
    this.adding.dispose();
    this.showing.dispose();
  }

  private sample(camera: OrthographicCamera, { x, y }: Vector2, hasDome: boolean): void {
    const i = this.taken;
    this.lamps.vary(i, hasDome);
    camera.setViewOffset(x, y, halton(i + 1, 5) - 0.5, halton(i + 1, 7) - 0.5, x, y);
    this.renderer.shadowMap.needsUpdate = true;
    this.renderer.render(this.scene, camera);
    camera.clearViewOffset();
    this.lamps.reset();
  }

  private pass(
    pass: Pass,
    values: Readonly<Record<string, unknown>>,
    into: WebGLRenderTarget | null,
  ): void {
    const { renderer } = this;
    pass.set(values);
    this.quad.clear();
    this.quad.add(pass.mesh);
    const { autoClear, clippingPlanes } = renderer;
    renderer.autoClear = false;
    renderer.clippingPlanes = [];
    renderer.setRenderTarget(into);
    renderer.render(this.quad, this.flat);
    renderer.setRenderTarget(null);
    Object.assign(renderer, { autoClear, clippingPlanes });
  }

  private fitted({ x, y }: Vector2): Textures {
    if (this.textures?.sum.width === x && this.textures.sum.height === y) return this.textures;
    this.forget();
    this.textures = {
      first: new FramebufferTexture(x, y),
      one: new FramebufferTexture(x, y),
      // shares of eight-bit pictures add up in half floats
      sum: new WebGLRenderTarget(x, y, { type: HalfFloatType, depthBuffer: false }),
    };
    return this.textures;
  }

  private forget(): void {
    for (const one of Object.values(this.textures ?? {})) one.dispose();
    this.textures = undefined;
  }
}

/** A shader over the whole picture. */
class Pass {
  readonly mesh: Mesh<PlaneGeometry, ShaderMaterial>;

  constructor(parameters: ConstructorParameters<typeof ShaderMaterial>[0]) {
    this.mesh = new Mesh(new PlaneGeometry(2, 2), new ShaderMaterial(parameters));
    this.mesh.frustumCulled = false;
  }

  set(values: Readonly<Record<string, unknown>>): void {
    const uniforms: Record<string, IUniform> = this.mesh.material.uniforms;
    for (const [name, value] of Object.entries(values)) {
      const uniform = uniforms[name];
      if (uniform) uniform.value = value;
    }
  }

  dispose(): void {
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}

/** Few samples are patchy: the mean comes in over the second half. */
function fadedIn(share: number): number {
  const late = Math.max(0, 2 * share - 1);
  return late * late * (3 - 2 * late);
}
