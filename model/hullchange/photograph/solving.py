"""A camera from marks: linear first, then least squares on the distances in the picture.

Source:
    R. Hartley and A. Zisserman, Multiple View Geometry, 2nd edition, 2003, chapters 4 and 7:
    normalised direct linear transformation, then least squares (from memory).
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.photograph.camera import Camera

FEWEST, FEWEST_WITH_RADIAL = 6, 8
"""Marks that are asked; the radial term asks more."""
FLAT_SHARE, FLAT = 0.02, 0.10
"""Marks closer to one plane than this share of their spread, or than this [m], are refused."""
CLUSTERED_SHARE = 0.15
"""Of the picture's diagonal; marks that spread over less are refused."""
OFF_SHARE = 0.01
"""Of the picture's diagonal; marks further off on average are refused."""
NEAR_SHARE = 0.001
"""Of the picture's diagonal; a camera that is no further off is not looked for again."""
FOCALS = (0.7, 1.0, 1.5, 2.5, 4.0)
"""Focal lengths, in picture widths, from which least squares begin besides the linear one."""
MOST_ROUNDS, STILL = 100, 1e-10


@dataclass(frozen=True, eq=False)
class PickedMark:
    """A place on the boat, and where it is in the picture.

    Attributes:
        id: what it is called.
        at: (3,) [m].
        pixel: (2,) [px] from the picture's upper left corner.
    """

    id: str
    at: FloatArray
    pixel: FloatArray


@dataclass(frozen=True, eq=False)
class Solved:
    """A camera, and how well it fits.

    Attributes:
        camera: found.
        off: (n,) [px] of each mark from where the camera has it.
        off_at_boat: (n,) [m] the same at the boat, square to the line of sight.
    """

    camera: Camera
    off: FloatArray
    off_at_boat: FloatArray

    @property
    def rms(self) -> float:
        """Root mean square of the marks' distances [px]."""
        return float(np.sqrt(np.mean(self.off**2)))


def solved(marks: tuple[PickedMark, ...], size: tuple[int, int], *, radial: bool) -> Solved:
    """The camera that sees the marks where they were picked.

    Args:
        marks: six or more.
        size: width and height of the picture [px].
        radial: whether the lens's radial term is found too.

    Raises:
        ModelError: ``too-few-marks``, ``marks-on-a-plane``, ``marks-clustered``,
            ``marks-disagree``.
    """
    _require_spread(marks, size, radial=radial)
    points, pixels = np.array([m.at for m in marks]), np.array([m.pixel for m in marks])
    best = _best(points, pixels, size)
    if radial:
        best = _refined(best, points, pixels, radial=True)
    found = _solved(best, points, pixels)
    _require_agreement(found, marks, size)
    return found


def _best(points: FloatArray, pixels: FloatArray, size: tuple[int, int]) -> Camera:
    """The camera that fits best, from each start in turn until one fits well."""
    enough = (NEAR_SHARE * float(np.hypot(*size))) ** 2
    best, least = None, np.inf
    for start in _starts(points, pixels, size):
        camera = _refined(start, points, pixels, radial=False)
        error = _error(camera, points, pixels)
        if best is None or error < least:
            best, least = camera, error
        if least <= enough:
            break
    assert best is not None
    return best


def _solved(camera: Camera, points: FloatArray, pixels: FloatArray) -> Solved:
    off = np.linalg.norm(camera.pixels(points) - pixels, axis=1)
    return Solved(camera, off, off * camera.depth(points) / camera.focal)


def _require_spread(
    marks: tuple[PickedMark, ...], size: tuple[int, int], *, radial: bool
) -> None:
    fewest = FEWEST_WITH_RADIAL if radial else FEWEST
    distinct = {tuple(np.round(m.at, 3).tolist()) for m in marks}
    if len(distinct) < fewest:
        with_lens = " with the lens's distortion" if radial else ""
        sentence = (
            f"{len(distinct)} marks of different places are set: a camera{with_lens} needs "
            f"{fewest} or more. Set further ones, spread over the boat."
        )
        raise ModelError("too-few-marks", sentence, "marks")
    points = np.array([m.at for m in marks])
    spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    spread = spread / np.sqrt(len(points))
    if spread[2] < max(FLAT, FLAT_SHARE * spread[0]):
        sentence = (
            f"The marks lie within {1000.0 * spread[2]:.0f} mm of one plane, so the camera "
            "could stand anywhere. Add marks off that plane: the deck's other side, the "
            "house's roof, the keel."
        )
        raise ModelError("marks-on-a-plane", sentence, "marks")
    pixels = np.array([m.pixel for m in marks])
    reach = float(np.linalg.norm(np.ptp(pixels, axis=0))) / float(np.hypot(*size))
    if reach < CLUSTERED_SHARE:
        sentence = (
            f"The marks cover {100.0 * reach:.0f} % of the picture's diagonal: spread them "
            f"over the whole boat, {100.0 * CLUSTERED_SHARE:.0f} % or more."
        )
        raise ModelError("marks-clustered", sentence, "marks")


def _require_agreement(
    found: Solved, marks: tuple[PickedMark, ...], size: tuple[int, int]
) -> None:
    most = OFF_SHARE * float(np.hypot(*size))
    behind = bool((found.camera.depth(np.array([m.at for m in marks])) <= 0.0).any())
    if found.rms <= most and not behind:
        return
    worst = _worst(marks, size)
    sentence = (
        f"The marks do not agree: they are {found.rms:.0f} px off on average, {most:.0f} px or "
        f"less is asked. Look at {worst.replace('-', ' ')} first: without it the others fit "
        "best. Is it the right place, or the other side?"
    )
    raise ModelError("marks-disagree", sentence, f"marks.{worst}")


def _worst(marks: tuple[PickedMark, ...], size: tuple[int, int]) -> str:
    """The mark without which the others agree best."""
    left: dict[str, float] = {}
    for mark in marks:
        others = [m for m in marks if m is not mark]
        points, pixels = np.array([m.at for m in others]), np.array([m.pixel for m in others])
        fits = [
            _refined(s, points, pixels, radial=False) for s in _starts(points, pixels, size)
        ]
        left[mark.id] = min(_error(camera, points, pixels) for camera in fits)
    return min(left, key=lambda name: left[name])


def _starts(points: FloatArray, pixels: FloatArray, size: tuple[int, int]) -> Iterator[Camera]:
    """Cameras to begin from: the linear one, with its own and with usual focal lengths."""
    middle = np.array(size, float) / 2.0
    linear = _linear(points, pixels, middle)
    yield linear
    for share in FOCALS:
        focal = share * max(size)
        centre = points.mean(axis=0)
        away = linear.at - centre
        yield Camera(centre + away * focal / linear.focal, linear.turn, focal, middle)


def _linear(points: FloatArray, pixels: FloatArray, middle: FloatArray) -> Camera:
    """The direct linear transformation of normalised places, taken apart into a camera."""
    scale, shift = np.sqrt(3.0) / points.std(), points.mean(axis=0)
    flat_scale = np.sqrt(2.0) / max(float((pixels - middle).std()), 1e-9)
    space = np.column_stack([(points - shift) * scale, np.ones(len(points))])
    u, v = ((pixels - middle) * flat_scale).T
    none = np.zeros_like(space)
    rows = np.concatenate(
        [
            np.hstack([space, none, -u[:, None] * space]),
            np.hstack([none, space, -v[:, None] * space]),
        ]
    )
    found = np.linalg.svd(rows)[2][-1].reshape(3, 4)
    found = np.diag([1.0 / flat_scale, 1.0 / flat_scale, 1.0]) @ found
    found = found @ np.block([[scale * np.eye(3), -scale * shift[:, None]], [np.eye(4)[3:]]])
    found /= np.linalg.norm(found[2, :3])
    if np.linalg.det(found[:, :3]) < 0.0:
        found = -found
    at = -np.linalg.lstsq(found[:, :3], found[:, 3], rcond=None)[0]
    ahead = found[2, :3]
    right, down = (row - (row @ ahead) * ahead for row in found[:2, :3])
    focal = float(np.sqrt(np.linalg.norm(right) * np.linalg.norm(down)))
    left, _, whole = np.linalg.svd(
        np.array([right / np.linalg.norm(right), down / np.linalg.norm(down), ahead])
    )
    turn = left @ np.diag([1.0, 1.0, np.linalg.det(left @ whole)]) @ whole
    return Camera(at, turn, focal, middle)


def _error(camera: Camera, points: FloatArray, pixels: FloatArray) -> float:
    """Mean square distance [px2] of marks; what lies behind the camera counts as far off."""
    behind = camera.depth(points) <= 0.0
    away = ((camera.pixels(points) - pixels) ** 2).sum(axis=1)
    found = float(np.mean(np.where(behind, 1e12, away)))
    return found if np.isfinite(found) else 1e18


def _refined(camera: Camera, points: FloatArray, pixels: FloatArray, *, radial: bool) -> Camera:
    """Least squares by damped Gauss-Newton steps."""
    count = 8 if radial else 7
    damping, error = 1e-3, _error(camera, points, pixels)
    for _ in range(MOST_ROUNDS):
        away = (camera.pixels(points) - pixels).ravel()
        slopes = _slopes(camera, points, count)
        normal, pull = slopes.T @ slopes, slopes.T @ away
        if not (np.isfinite(normal).all() and np.isfinite(pull).all()):
            break
        step = np.linalg.lstsq(
            normal + damping * np.diag(np.diag(normal) + 1e-12), -pull, rcond=None
        )[0]
        tried = camera.moved(np.asarray(step, np.float64))
        after = _error(tried, points, pixels)
        if after < error:
            gained = error - after
            camera, error, damping = tried, after, max(damping / 5.0, 1e-12)
            if gained <= STILL * (error + 1e-12):
                break
        else:
            damping *= 4.0
            if damping > 1e12:
                break
    return camera


def _slopes(camera: Camera, points: FloatArray, count: int) -> FloatArray:
    """How pixels (2 n,) move [px] with each of the camera's steps, by central differences."""
    columns = []
    size = float(np.linalg.norm(camera.at - points.mean(axis=0)))
    for k in range(count):
        step = np.zeros(count)
        step[k] = 1e-6 * (size if 3 <= k < 6 else 1.0)
        ahead, back = (camera.moved(way * step).pixels(points) for way in (1.0, -1.0))
        columns.append((ahead - back).ravel() / (2.0 * step[k]))
    return np.column_stack(columns)
