import type { Quaternion, Vector3 } from 'three';

/** From where she is looked at. */
export type ViewName =
  | 'profile'
  | 'plan'
  | 'body'
  | 'oblique'
  | 'port quarter'
  | 'starboard quarter';

/** Directions to the eye in the scene's axes: X aft, Y up, Z to port. */
export const DIRECTIONS: Readonly<Record<ViewName, readonly [number, number, number]>> = {
  oblique: [-0.62, 0.36, 0.86],
  profile: [0, 0, 1],
  plan: [0, 1, 1e-4],
  body: [1, 0, 0],
  'port quarter': [0.75, 0.4, 0.6],
  'starboard quarter': [0.75, 0.4, -0.6],
};

/** Whether she stands right below the drawing above, at its scale. */
export const isAligned = (name: ViewName) => name === 'profile' || name === 'plan';

/** Where the camera stands, and at what it looks. */
export interface CameraState {
  readonly position: Vector3;
  readonly turn: Quaternion;
  readonly zoom: number;
  readonly target: Vector3;
}
