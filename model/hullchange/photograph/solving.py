"""A camera from marks: linear first, then least squares on the distances in the picture.

Source:
    R. Hartley and A. Zisserman, Multiple View Geometry, 2nd edition, 2003, chapters 4 and 7:
    normalised direct linear transformation, then least squares (from memory).
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import combinations, islice

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.photograph.camera import Camera

FEWEST, FEWEST_CROPPED, FEWEST_BENT = 6, 8, 10
"""Marks that are needed; more for the middle of a cropped picture and a lens that distorts."""
PINHOLE, RADIAL, MIDDLE = tuple(range(7)), (7,), (8, 9)
"""Steps of a camera that are looked for."""
MARK_SHARE, CROP_SHARE = 0.0008, 0.1
"""Of the picture's diagonal: one standard deviation of a mark, and of the middle of a picture
that may have been cropped (own choice; it costs 1 mm where it was not, and saves 40 mm where it
was by a third).
"""
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
BEARINGS = 8
"""Directions in which cameras stand that least squares begin from after these."""
MOST_ROUNDS, STILL = 100, 1e-10
MIRROR = np.array([1.0, -1.0, 1.0])
SAME_PLACE = 0.02
"""[m] within which two marks are each other's mirror image."""


@dataclass(frozen=True, eq=False)
class PickedMark:
    """A place on the boat, and where it is in the picture.

    Attributes:
        id: its key.
        name: in words.
        at: (3,) [m].
        pixel: (2,) [px] from the picture's upper left corner.
    """

    id: str
    name: str
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


def solved(marks: tuple[PickedMark, ...], size: tuple[int, int]) -> Solved:
    """The camera that sees the marks where they were picked.

    With marks enough, where the lens's axis meets a cropped picture is found too, and its
    radial term.

    Args:
        marks: six or more.
        size: width and height of the picture [px].

    Raises:
        ModelError: ``too-few-marks``, ``marks-on-a-plane``, ``marks-clustered``,
            ``sides-swapped``, ``marks-disagree``.
    """
    _require_spread(marks, size)
    points, pixels = _places(marks)
    free = PINHOLE
    free += RADIAL if len(marks) >= FEWEST_BENT else ()
    free += MIDDLE if len(marks) >= FEWEST_CROPPED else ()
    found = _solved(_refined(_best(points, pixels, size), points, pixels, free), points, pixels)
    _require_agreement(found, marks, size)
    return found


def _places(marks: Sequence[PickedMark]) -> tuple[FloatArray, FloatArray]:
    return np.array([m.at for m in marks]), np.array([m.pixel for m in marks])


def _best(points: FloatArray, pixels: FloatArray, size: tuple[int, int]) -> Camera:
    """The camera that fits best, from each start in turn until one fits well."""
    enough = (NEAR_SHARE * float(np.hypot(*size))) ** 2
    best, least = None, np.inf
    for start in _starts(points, pixels, size):
        camera = _refined(start, points, pixels)
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


def _require_spread(marks: tuple[PickedMark, ...], size: tuple[int, int]) -> None:
    distinct = {tuple(np.round(m.at, 3).tolist()) for m in marks}
    if len(distinct) < FEWEST:
        sentence = (
            f"Finding the camera takes {FEWEST} different places or more; marked so far: "
            f"{len(distinct)}. Mark more, spread over the boat."
        )
        raise ModelError("too-few-marks", sentence, "marks")
    points, pixels = _places(marks)
    spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    spread = spread / np.sqrt(len(points))
    least = max(FLAT, FLAT_SHARE * spread[0])
    if spread[2] < least:
        shape, off = ("line", spread[1]) if spread[1] < least else ("plane", spread[2])
        sentence = (
            f"The marks lie within {1000.0 * off:.0f} mm of one {shape}, so the camera could "
            f"stand anywhere. Add marks off that {shape}: the deck's other side, the house's "
            "roof, the keel."
        )
        raise ModelError("marks-on-a-plane", sentence, "marks")
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
    behind = bool((found.camera.depth(_places(marks)[0]) <= 0.0).any())
    if found.rms <= most and not behind:
        return
    for refusal, others in _other_sides(marks):
        if _least_error(others, size) <= most**2 / 4.0:
            raise refusal
    worst = _worst(marks, size)
    sentence = (
        f"The marks do not agree: they are {found.rms:.0f} px off on average, at most "
        f"{most:.0f} px is allowed. Check first: {worst.name}; without it the others fit best. "
        "Is it the right place, or on the other side?"
    )
    raise ModelError("marks-disagree", sentence, f"marks.{worst.id}")


def _other_sides(
    marks: tuple[PickedMark, ...],
) -> Iterator[tuple[ModelError, tuple[PickedMark, ...]]]:
    """Sides that may have been confused: a refusal, and the marks corrected."""
    sentence = (
        "The marks fit with port and starboard swapped: the picture is mirrored, or every "
        "mark is on the wrong side. Use the picture as it was taken, or mark the other side."
    )
    mirrored = tuple(replace(m, at=m.at * MIRROR) for m in marks)
    yield ModelError("sides-swapped", sentence, "marks"), mirrored
    for one, other in combinations(marks, 2):
        if np.linalg.norm(one.at * MIRROR - other.at) < SAME_PLACE < abs(one.at[1]):
            changed = {one.id: other.at, other.id: one.at}
            sentence = f"The marks fit with these two swapped: {one.name}; {other.name}."
            swapped = tuple(replace(m, at=changed.get(m.id, m.at)) for m in marks)
            yield ModelError("sides-swapped", sentence, f"marks.{one.id}"), swapped
    for one in marks:
        if abs(one.at[1]) > SAME_PLACE:
            sentence = f"The marks fit with this one on the boat's other side: {one.name}."
            across = tuple(replace(m, at=m.at * MIRROR) if m is one else m for m in marks)
            yield ModelError("sides-swapped", sentence, f"marks.{one.id}"), across


def _least_error(marks: tuple[PickedMark, ...], size: tuple[int, int]) -> float:
    """Mean square distance [px2] of marks from a camera that fits them, from two starts."""
    points, pixels = _places(marks)
    starts = islice(_starts(points, pixels, size), 2)
    return min(_error(_refined(start, points, pixels), points, pixels) for start in starts)


def _worst(marks: tuple[PickedMark, ...], size: tuple[int, int]) -> PickedMark:
    """The mark without which the others agree best."""
    return min(
        marks, key=lambda mark: _least_error(tuple(m for m in marks if m is not mark), size)
    )


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
    yield from _around(points, pixels, middle)


def _around(points: FloatArray, pixels: FloatArray, middle: FloatArray) -> Iterator[Camera]:
    """Level cameras all round the boat, as far off as she is large in the picture."""
    centre, focal = points.mean(axis=0), float(3.0 * middle.max())
    distance = focal * float(points.std() / max(float(pixels.std()), 1e-9))
    for bearing in np.arange(BEARINGS) * 2.0 * np.pi / BEARINGS:
        ahead = -np.array([np.cos(bearing), np.sin(bearing), 0.1]) / np.hypot(1.0, 0.1)
        right = np.cross(ahead, [0.0, 0.0, 1.0]) / np.hypot(ahead[0], ahead[1])
        turn = np.array([right, np.cross(ahead, right), ahead])
        yield Camera(centre - distance * ahead, turn, focal, middle)


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


def _refined(
    camera: Camera, points: FloatArray, pixels: FloatArray, free: tuple[int, ...] = PINHOLE
) -> Camera:
    """Least squares by damped Gauss-Newton steps.

    Args:
        camera: to begin from; where it has its middle, it is expected.
        points: (n, 3) [m].
        pixels: (n, 2) where they are seen.
        free: which of its steps are taken.
    """
    held = MARK_SHARE / CROP_SHARE if free[-1] in MIDDLE else 0.0
    off = partial(_off, points, pixels, camera.middle, held)
    sum_of = partial(_sum_of, points, off)
    damping, error = 1e-3, sum_of(camera)
    for _ in range(MOST_ROUNDS):
        slopes = _slopes(off, camera, points, free)
        normal, pull = slopes.T @ slopes, slopes.T @ off(camera)
        if not (np.isfinite(normal).all() and np.isfinite(pull).all()):
            break
        step = np.zeros(10)
        step[list(free)] = np.linalg.lstsq(
            normal + damping * np.diag(np.diag(normal) + 1e-12), -pull, rcond=None
        )[0]
        tried = camera.moved(step)
        after = sum_of(tried)
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


def _off(
    points: FloatArray, pixels: FloatArray, middle: FloatArray, held: float, camera: Camera
) -> FloatArray:
    """How far each mark (2 n,) is off [px], and the middle with its weight."""
    away = (camera.pixels(points) - pixels).ravel()
    return np.append(away, held * (camera.middle - middle))


def _sum_of(points: FloatArray, off: Callable[[Camera], FloatArray], camera: Camera) -> float:
    """Sum of squares [px2]; what lies behind the camera counts as far off."""
    behind = np.repeat(camera.depth(points) <= 0.0, 2)
    squares = off(camera) ** 2
    squares[: len(behind)][behind] = 1e12
    total = float(squares.sum())
    return total if np.isfinite(total) else 1e18


def _slopes(
    off: Callable[[Camera], FloatArray],
    camera: Camera,
    points: FloatArray,
    free: tuple[int, ...],
) -> FloatArray:
    """How far what is off moves [px] with each free step, by central differences."""
    columns = []
    size = float(np.linalg.norm(camera.at - points.mean(axis=0)))
    for k in free:
        step = np.zeros(10)
        step[k] = 1e-6 * (size if 3 <= k < 6 else camera.focal if k in MIDDLE else 1.0)
        ahead, back = (off(camera.moved(way * step)) for way in (1.0, -1.0))
        columns.append((ahead - back) / (2.0 * step[k]))
    return np.column_stack(columns)
