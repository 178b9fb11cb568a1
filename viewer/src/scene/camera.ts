/** From where the boat is looked at: camera, hand control, named views. */
import { Box3, OrthographicCamera, Quaternion, Spherical, Vector3 } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';
import { eased } from '../shared/boat/settling.ts';
import { eachPoint } from '../shared/shapes/positions.ts';
import { play, type Stop } from './motion.ts';
import { type CameraState, DIRECTIONS, isAligned, type ViewName } from './view-names.ts';

const DISTANCE = 60;
const FILL = 0.92;
const RADIANS = Math.PI / 180;
/** From straight above; the eye stops a hand's breadth under the water's level. */
const LOWEST = 97 * RADIANS;
const HIGHEST = 1e-3;
const NEAREST_ZOOM = 20;
const FARTHEST_ZOOM = 0.2;
/** A drag across so many pixels turns her half round. */
const HALF_TURN_PX = 560;

/** Points (X, Y, Z) after (X, Y, Z) that must be seen. */
type PointsToSee = () => readonly ArrayLike<number>[];

export class Camera {
  readonly orthographic = new OrthographicCamera(-7, 7, 3, -3, 0.1, 2 * DISTANCE);
  private readonly canvas: HTMLCanvasElement;
  private readonly controls: OrbitControls;
  private readonly reach: PointsToSee;
  private readonly moved: () => void;
  private range = { x0: -2, x1: 12 };
  private view: ViewName | undefined = 'oblique';
  /** Whether all of her is meant to be seen, whatever size she and the canvas have. */
  private isFitted = true;
  private isQuiet = false;
  private taken: (now: CameraState) => boolean = () => true;
  private stop: Stop = () => undefined;

  /** Looks at all that is within reach; tells when it has moved. */
  constructor(canvas: HTMLCanvasElement, reach: PointsToSee, moved: () => void) {
    this.canvas = canvas;
    this.reach = reach;
    this.moved = moved;
    this.controls = new OrbitControls(this.orthographic, canvas);
    Object.assign(this.controls, { zoomToCursor: true, enableDamping: false });
    Object.assign(this.controls, { minZoom: FARTHEST_ZOOM, maxZoom: NEAREST_ZOOM });
    this.controls.maxPolarAngle = LOWEST;
    this.controls.addEventListener('change', () => {
      if (!this.isQuiet) moved();
    });
    this.controls.addEventListener('start', () => {
      const was = this.state();
      this.taken = ({ zoom, target }) => zoom !== was.zoom || !target.equals(was.target);
      this.view = undefined;
      this.stop();
    });
    // a hand that only turned her leaves her fitted
    this.controls.addEventListener('end', () => {
      this.isFitted &&= !this.taken(this.state());
    });
  }

  /** Whether the hand turns her, or a finger scrolls the page. */
  hold(isHeld: boolean): void {
    this.controls.enabled = isHeld;
    this.canvas.style.touchAction = isHeld ? 'none' : 'pan-y';
  }

  /** The named view, until the hand has turned her. */
  get named(): ViewName | undefined {
    return this.view;
  }

  /** Direction to the eye. */
  get direction(): readonly [number, number, number] {
    return this.orthographic.position.clone().sub(this.controls.target).normalize().toArray();
  }

  /** Pixels a metre. */
  get perMetre(): number {
    return (this.canvas.clientWidth / (this.range.x1 - this.range.x0)) * this.orthographic.zoom;
  }

  /** Her own axes on the page, x to the right and y down: forward, starboard, up. */
  axes(): readonly (readonly [number, number])[] {
    const turn = this.orthographic.quaternion.clone().invert();
    return [new Vector3(-1, 0, 0), new Vector3(0, 0, -1), new Vector3(0, 1, 0)].map((axis) => {
      const { x, y } = axis.applyQuaternion(turn);
      return [x, -y] as const;
    });
  }

  /** What the drawing above covers along the boat, so that the profile stands right below it. */
  along(x0: number, x1: number): boolean {
    if (this.range.x0 === x0 && this.range.x1 === x1) return false;
    this.range = { x0, x1 };
    return true;
  }

  /** Looks from a named side, so that she fills the canvas; turns there where `turns`. */
  look(name: ViewName, turns = false): void {
    this.change(turns, () => {
      this.view = name;
      this.isFitted = true;
      const target = this.box().getCenter(new Vector3());
      if (isAligned(name)) target.x = (this.range.x0 + this.range.x1) / 2;
      this.stand(new Vector3(...DIRECTIONS[name]), target);
      this.fill(isAligned(name));
    });
  }

  /** All of her, from where the eye is. */
  fitAll(turns = true): void {
    this.change(turns, () => {
      this.isFitted = true;
      this.stand(new Vector3(...this.direction), this.box().getCenter(new Vector3()));
      this.fill(this.view !== undefined && isAligned(this.view));
    });
  }

  /** Keeps all of her in sight where that was so. */
  keepFit(): void {
    if (!this.isFitted) return;
    if (this.view) this.look(this.view);
    else this.fitAll(false);
  }

  /** Whether what is meant to be seen reaches beyond the canvas. */
  get isOutgrown(): boolean {
    const { min, max } = this.seen();
    const { left, right, top, bottom, zoom } = this.orthographic;
    return (
      this.isFitted &&
      (min.x * zoom < left || max.x * zoom > right || min.y * zoom < bottom || max.y * zoom > top)
    );
  }

  /** Comes nearer to a point of the scene, which moves to the middle. */
  closer(point: Vector3, times: number): void {
    const zoom = Math.min(NEAREST_ZOOM, this.orthographic.zoom * times);
    this.freed();
    this.change(true, () => {
      this.stand(new Vector3(...this.direction), point);
      this.orthographic.zoom = zoom;
    });
  }

  /** Turns about the boat. */
  turn(sidewaysDeg: number, upDeg: number): void {
    this.stop();
    this.view = undefined;
    const arm = this.orthographic.position.clone().sub(this.controls.target);
    const place = new Spherical().setFromVector3(arm);
    place.theta += sidewaysDeg * RADIANS;
    place.phi = Math.min(LOWEST, Math.max(HIGHEST, place.phi - upDeg * RADIANS));
    this.orthographic.position.setFromSpherical(place).add(this.controls.target);
    this.controls.update();
  }

  /** Moves along the page: to the right and up [px]. */
  pan(right: number, up: number): void {
    this.freed();
    const shift = new Vector3(right, up, 0).divideScalar(this.perMetre);
    shift.applyQuaternion(this.orthographic.quaternion);
    this.controls.target.add(shift);
    this.orthographic.position.add(shift);
    this.controls.update();
  }

  /** Comes nearer (above 1) or goes away (below 1). */
  nearer(times: number): void {
    this.freed();
    const zoom = this.orthographic.zoom * times;
    this.orthographic.zoom = Math.min(NEAREST_ZOOM, Math.max(FARTHEST_ZOOM, zoom));
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
    this.controls.rotateSpeed = h / (2 * HALF_TURN_PX);
    this.keepFit();
  }

  /** A camera that sees as much, on a sheet of other proportions. */
  forSheet(width: number, height: number): OrthographicCamera {
    const camera = this.orthographic.clone();
    const up = (camera.right * height) / width;
    camera.zoom *= Math.min(1, up / camera.top);
    Object.assign(camera, { top: up, bottom: -up });
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
    return camera;
  }

  describe() {
    return {
      view: this.view ?? null,
      eye: this.direction.map((v) => Math.round(v * 1000) / 1000),
      zoom: this.orthographic.zoom,
      perMetre: this.perMetre,
    };
  }

  dispose(): void {
    this.stop();
    this.controls.dispose();
  }

  /** The hand has her: no name, no fit, no turning by itself. */
  private freed(): void {
    this.stop();
    this.view = undefined;
    this.isFitted = false;
  }

  /** Goes where a change leads, within a quarter of a second or at once. */
  private change(turns: boolean, made: () => void): void {
    this.stop();
    const from = this.state();
    this.isQuiet = true;
    made();
    this.orthographic.updateProjectionMatrix();
    this.controls.update();
    this.isQuiet = false;
    const to = this.state();
    if (turns) this.stop = play('turn', (share) => this.put(from, to, eased(share)));
    this.moved();
  }

  private state(): CameraState {
    const { position, quaternion, zoom } = this.orthographic;
    const target = this.controls.target.clone();
    return { position: position.clone(), turn: quaternion.clone(), zoom, target };
  }

  private put(from: CameraState, to: CameraState, share: number): void {
    const { position, quaternion } = this.orthographic;
    this.controls.target.lerpVectors(from.target, to.target, share);
    quaternion.copy(new Quaternion().slerpQuaternions(from.turn, to.turn, share));
    position.set(0, 0, DISTANCE).applyQuaternion(quaternion).add(this.controls.target);
    if (share === 1) {
      position.copy(to.position);
      quaternion.copy(to.turn);
    }
    this.orthographic.zoom = from.zoom * (to.zoom / from.zoom) ** share;
    this.orthographic.updateProjectionMatrix();
    this.orthographic.updateMatrixWorld();
    this.moved();
  }

  /** The eye at its distance from a target, not any nearer. */
  private stand(direction: Vector3, target: Vector3): void {
    this.controls.target.copy(target);
    const arm = direction.normalize().multiplyScalar(DISTANCE);
    this.orthographic.position.copy(arm.add(target));
    this.orthographic.zoom = 1;
    this.controls.update();
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
