"""A pinhole camera with one radial term: places on the boat to pixels of a photograph."""

from dataclasses import dataclass, replace

import numpy as np

from hullchange.geometry.frame import FloatArray


@dataclass(frozen=True, eq=False)
class Camera:
    """Where a photograph was taken from, and how long the lens was.

    Its pixels are square. The lens's axis meets the picture in its middle, unless that was
    cropped.

    Attributes:
        at: (3,) its place [m] in the boat's frame.
        turn: (3, 3) [-] rotation from the boat's frame to the camera's: right, down, ahead.
        focal: [px] focal length.
        middle: (2,) [px] where the lens's axis meets the picture.
        radial: [-] share by which what stands one focal length off the middle is moved outward.
    """

    at: FloatArray
    turn: FloatArray
    focal: float
    middle: FloatArray
    radial: float = 0.0

    def depth(self, points: FloatArray) -> FloatArray:
        """Distance (n,) [m] of points (n, 3) [m] before the camera, along its axis."""
        return np.asarray((points - self.at) @ self.turn[2])

    def pixels(self, points: FloatArray) -> FloatArray:
        """Places (n, 2) [px] of points (n, 3) [m]; meaningless behind the camera."""
        seen = (np.asarray(points, float) - self.at) @ self.turn.T
        ahead = np.where(np.abs(seen[:, 2]) < 1e-9, 1e-9, seen[:, 2])
        flat = seen[:, :2] / ahead[:, None]
        spread = 1.0 + self.radial * (flat**2).sum(axis=1, keepdims=True)
        return np.asarray(self.middle + self.focal * flat * spread)

    def moved(self, step: FloatArray) -> "Camera":
        """The camera with a small step (10,) [rad, m, -, px] taken.

        Three turns, three metres, the logarithm of the focal length, the radial term, and two
        pixels by which the middle moves.
        """
        return replace(
            self,
            turn=rotation(step[:3]) @ self.turn,
            at=self.at + step[3:6],
            focal=self.focal * float(np.exp(np.clip(step[6], -1.0, 1.0))),
            radial=self.radial + float(step[7]),
            middle=self.middle + step[8:],
        )


def rotation(vector: FloatArray) -> FloatArray:
    """Rotation matrix (3, 3) [-] about a vector (3,) [rad], by its length."""
    angle = float(np.linalg.norm(vector))
    x, y, z = vector / angle if angle > 1e-12 else vector
    across = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    if angle <= 1e-12:
        return np.asarray(np.eye(3) + across)
    return np.asarray(
        np.eye(3) + np.sin(angle) * across + (1.0 - np.cos(angle)) * across @ across
    )
