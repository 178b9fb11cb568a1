/** From where the boat is looked at: camera, hand control, named views. */
import { Box3, OrthographicCamera, Spherical, Vector3 } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';
import { eachPoint } from './positions.ts';

/** From where she is looked at. */
export type ViewName =
  | 'profile'
  | 'plan'
  | 'body'
  | 'oblique'
  | 'port quarter'
  | 'starboard quarter';

/** Directions to the eye in the scene's axes: X aft, Y up, Z to port. */
const DIRECTIONS: Readonly<Record<ViewName, readonly [number, number, number]>> = {
  oblique: [-0.5, 0.42, 0.75],
  profile: [0, 0, 1],
  plan: [0, 1, 1e-4],
  body: [1, 0, 0],
  'port quarter': [0.75, 0.4, 0.6],
  'starboard quarter': [0.75, 0.4, -0.6],
};
const DISTANCE = 60;
const FILL = 0.95;
const RADIANS = Math.PI / 180;

/** Points (X, Y, Z) after (X, Y, Z) that must be seen. */
type PointsToSee = () => readonly ArrayLike<number>[];

export class Camera {
  readonly orthographic = new OrthographicCamera(-7, 7, 3, -3, 0.1, 2 * DISTANCE);
  private readonly canvas: HTMLCanvasElement;
  private readonly controls: OrbitControls;
  private readonly reach: PointsToSee;
  private range = { x0: -2, x1: 12 };
  private view: ViewName | undefined = 'oblique';

  /** Looks at all that is within reach; tells when it has moved. */
  constructor(canvas: HTMLCanvasElement, reach: PointsToSee, moved: () => void) {
    this.canvas = canvas;
    this.reach = reach;
    this.controls = new OrbitControls(this.orthographic, canvas);
    this.controls.zoomToCursor = true;
    this.controls.enableDamping = false;
    this.controls.addEventListener('change', moved);
    this.controls.addEventListener('start', () => {
      this.view = undefined;
    });
  }

  /** The named view, until the hand has turned her. */
  get named(): ViewName | undefined {
    return this.view;
  }

  /** Direction to the eye. */
  get direction(): readonly number[] {
    return this.orthographic.position.clone().sub(this.controls.target).normalize().toArray();
  }

  /** Pixels a metre. */
  get perMetre(): number {
    return (this.canvas.clientWidth / (this.range.x1 - this.range.x0)) * this.orthographic.zoom;
  }

  /** What the drawing above covers along the boat, so that the profile stands right below it. */
  along(x0: number, x1: number): boolean {
    if (this.range.x0 === x0 && this.range.x1 === x1) return false;
    this.range = { x0, x1 };
    return true;
  }

  /** Looks from a named side, so that she fills the canvas. */
  look(name: ViewName): void {
    this.view = name;
    const target = this.box().getCenter(new Vector3());
    const aligned = isAligned(name);
    if (aligned) target.x = (this.range.x0 + this.range.x1) / 2;
    this.controls.target.copy(target);
    this.orthographic.position
      .set(...DIRECTIONS[name])
      .normalize()
      .multiplyScalar(DISTANCE)
      .add(target);
    this.orthographic.zoom = 1;
    this.controls.update();
    this.fill(aligned);
  }

  /** Turns about the boat. */
  turn(sidewaysDeg: number, upDeg: number): void {
    this.view = undefined;
    const arm = this.orthographic.position.clone().sub(this.controls.target);
    const place = new Spherical().setFromVector3(arm);
    place.theta += sidewaysDeg * RADIANS;
    place.phi = Math.min(179 * RADIANS, Math.max(RADIANS, place.phi - upDeg * RADIANS));
    this.orthographic.position.setFromSpherical(place).add(this.controls.target);
    this.controls.update();
  }

  /** Comes nearer (above 1) or goes away (below 1). */
  nearer(times: number): void {
    this.view = undefined;
    this.orthographic.zoom = Math.min(20, Math.max(0.2, this.orthographic.zoom * times));
    this.orthographic.updateProjectionMatrix();
    this.controls.update();
  }

  /** Follows the size of the canvas. */
  fit(): void {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    const half = (this.range.x1 - this.range.x0) / 2;
    const up = (half * h) / w;
    Object.assign(this.orthographic, { left: -half, right: half, top: up, bottom: -up });
    this.orthographic.updateProjectionMatrix();
    if (this.view) this.look(this.view);
  }

  dispose(): void {
    this.controls.dispose();
  }

  /** Moves so that she fills the canvas; along the boat the drawing above rules. */
  private fill(aligned: boolean): void {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    const seen = this.seen();
    if (!w || !h || seen.isEmpty()) return;
    const size = seen.getSize(new Vector3());
    const span = this.range.x1 - this.range.x0;
    const whole = Math.min(span / size.x, (span * h) / w / size.y) * FILL;
    this.orthographic.zoom = aligned ? Math.min(1, whole) : whole;
    const { x, y } = seen.getCenter(new Vector3());
    const shift = new Vector3(aligned ? 0 : x, y, 0).applyQuaternion(this.orthographic.quaternion);
    this.controls.target.add(shift);
    this.orthographic.position.add(shift);
    this.orthographic.updateProjectionMatrix();
    this.controls.update();
  }

  private box(): Box3 {
    const box = this.around((point) => point);
    return box.isEmpty() ? box.set(new Vector3(-1, -2, -2), new Vector3(11, 2, 2)) : box;
  }

  /** What the camera sees, in its own axes [m]. */
  private seen(): Box3 {
    this.orthographic.updateMatrixWorld();
    return this.around((point) => point.applyMatrix4(this.orthographic.matrixWorldInverse));
  }

  private around(placed: (point: Vector3) => Vector3): Box3 {
    const box = new Box3();
    const point = new Vector3();
    for (const positions of this.reach()) {
      eachPoint(positions, (x, y, z) => box.expandByPoint(placed(point.set(x, y, z))));
    }
    return box;
  }
}

const isAligned = (name: ViewName) => name === 'profile' || name === 'plan';
