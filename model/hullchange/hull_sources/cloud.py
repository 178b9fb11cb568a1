"""A cloud of points made ready: levelled, thinned, cleaned, upright about its mirror plane."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares
from scipy.spatial import cKDTree

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray

FEWEST_POINTS = 2000  # that are left of a hull when it is cleaned
CELL_SHARE = 0.002  # of the length: edge of the cubes that are thinned to one point each
NEIGHBOURS, FAR, ROUNDS = 12, 2.0, 2
"""A stray is farther from so many neighbours, on average, than so many times the median."""
MIRRORED_POINTS, MIRROR_REACH = 4000, 0.10  # [m]
FACING_AFT = 0.85  # of the normal, of a point of a flat stern
STERN_SHARE, LEAST_FACE = 0.12, 0.04  # of the length looked at, and of its points in a face
MOST_LEAN = 40.0  # [deg] of the waterline's plane from level, z being roughly up
SHORTEST, LONGEST = 2.0, 60.0  # [m] of a boat
SLIMMEST, FATTEST = 1.3, 12.0  # length over breadth
LOPSIDED = 3.0, 0.02  # of the spacing and of the breadth: sides that differ by more are none


@dataclass(frozen=True, eq=False)
class Turn:
    """A change of axes that keeps lengths: p becomes ``p @ matrix + shift``.

    Attributes:
        matrix: (3, 3) [-].
        shift: (3,) [m].
    """

    matrix: FloatArray
    shift: FloatArray

    def of(self, points: FloatArray) -> FloatArray:
        """Points (n, 3) [m] in the new axes."""
        return np.asarray(points @ self.matrix + self.shift)

    def then(self, other: "Turn") -> "Turn":
        """Both, one after the other."""
        return Turn(self.matrix @ other.matrix, self.shift @ other.matrix + other.shift)


TURNED_END_FOR_END = Turn(np.diag([-1.0, -1.0, 1.0]), np.zeros(3))


@dataclass(frozen=True, eq=False)
class Cloud:
    """A cleaned hull: x aft, y to starboard about her mirror plane, z up from the waterline.

    Attributes:
        points: (n, 3) [m], without a flat stern.
        stern: x at z = 0 [m] and slope [-] of a flat stern, x = a + c z; None if there is none.
        spacing: [m] median distance of neighbours.
        off_mirror: [m] median distance of a point from the other side's, mirrored.
        turn: from the axes of the scan to these.
        marks: (k, 3) [m] picked on the waterline, in these axes.
    """

    points: FloatArray
    stern: tuple[float, float] | None
    spacing: float
    off_mirror: float
    turn: Turn
    marks: FloatArray


def cleaned(points: FloatArray, marks: FloatArray, bow: FloatArray | None = None) -> Cloud:
    """The hull in a cloud.

    Args:
        points: (n, 3) [m], any axes, z roughly up.
        marks: (k, 3) [m], three or more on the waterline.
        bow: (3,) [m] a point at the bow; None to take the finer end.

    Raises:
        ModelError: ``too-few-points``, ``too-few-marks``, ``marks-in-line``,
            ``marks-not-level``, ``no-scale``, ``no-hull``.
    """
    turn = levelling(points, marks)
    level = turn.of(points)
    length = float(np.ptp(np.quantile(level[:, 0], [0.01, 0.99])))
    _require_boat(level, length)
    kept = without_strays(thinned(level, CELL_SHARE * length))
    _require_enough(len(kept), len(points))
    mirror, off = mirror_plane(kept)
    turn = turn.then(mirror)
    kept = mirror.of(kept)
    if _is_backwards(kept, None if bow is None else turn.of(bow[None])[0]):
        kept, turn = TURNED_END_FOR_END.of(kept), turn.then(TURNED_END_FOR_END)
    spacing = float(np.median(cKDTree(kept).query(kept[::7], 2)[0][:, 1]))
    _require_symmetry(kept, off, spacing)
    kept, stern = without_stern(kept)
    return Cloud(kept, stern, spacing, off, turn, turn.of(marks))


def levelling(points: FloatArray, marks: FloatArray) -> Turn:
    """The turn that puts z = 0 in the plane of the marks and x along the cloud.

    Args:
        points: (n, 3) [m].
        marks: (k, 3) [m].

    Raises:
        ModelError: ``marks-in-line``, ``marks-not-level``, ``too-few-marks``.
    """
    if len(marks) < 3:
        sentence = "Pick three marks or more on the waterline, not all on one side."
        raise ModelError("too-few-marks", sentence)
    centre = marks.mean(axis=0)
    _, spread, axes = np.linalg.svd(marks - centre)
    if spread[1] < 0.04 * spread[0]:
        sentence = (
            "The waterline marks lie in a line: pick them on both sides, forward and aft."
        )
        raise ModelError("marks-in-line", sentence)
    up = axes[2] * (1.0 if axes[2][2] >= 0.0 else -1.0)
    lean = float(np.degrees(np.arccos(min(up[2], 1.0))))
    if lean > MOST_LEAN:
        sentence = (
            f"The plane through the waterline marks leans {lean:.0f}° from level: pick them "
            "again on the waterline, or turn the scan so that z is up."
        )
        raise ModelError("marks-not-level", sentence)
    away = points[:: max(1, len(points) // 20_000)]
    away = away - np.outer((away - centre) @ up, up)
    away = away - np.median(away, axis=0)
    near = np.linalg.norm(away, axis=1)
    away = away[near < 1.5 * np.quantile(near, 0.9)]
    along = np.linalg.svd(away, full_matrices=False)[2][0]
    along = along - (along @ up) * up
    along = along / np.linalg.norm(along)
    frame = np.stack([along, np.cross(up, along), up]).T
    return Turn(frame, -centre @ frame)


def thinned(points: FloatArray, cell: float) -> FloatArray:
    """The mean (m, 3) [m] of the points (n, 3) in each cube of edge ``cell`` [m]."""
    keys = np.floor((points - points.min(axis=0)) / cell).astype(np.int64)
    size = keys.max(axis=0) + 1
    flat = (keys[:, 0] * size[1] + keys[:, 1]) * size[2] + keys[:, 2]
    _, inverse, count = np.unique(flat, return_inverse=True, return_counts=True)
    sums = [np.bincount(inverse.ravel(), points[:, axis]) for axis in range(3)]
    return np.stack(sums, axis=1) / count[:, None]


def without_strays(points: FloatArray) -> FloatArray:
    """Those of the points (n, 3) [m] that are about as near to their neighbours as usual."""
    for _ in range(ROUNDS):
        if len(points) <= NEIGHBOURS:
            break
        far = cKDTree(points).query(points, NEIGHBOURS + 1)[0][:, 1:].mean(axis=1)
        points = points[far < FAR * np.median(far)]
    return points


def mirror_plane(points: FloatArray) -> tuple[Turn, float]:
    """The turn about which both sides agree across y = 0, and how well.

    Second is the median distance [m] of a point from the other side's, mirrored.

    Args:
        points: (n, 3) [m].
    """
    draw = np.random.default_rng(0)
    some = points[draw.permutation(len(points))[:MIRRORED_POINTS]]
    middle = np.median(some, axis=0) * np.array([1.0, 0.0, 0.0])
    mirror = np.array([1.0, -1.0, 1.0])

    def turn_by(by: FloatArray) -> Turn:
        yaw, shift, roll = by
        c, s, a, b = np.cos(yaw), np.sin(yaw), np.cos(roll), np.sin(roll)
        about_z = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
        about_x = np.array([[1.0, 0.0, 0.0], [0.0, a, b], [0.0, -b, a]])
        matrix = about_z @ about_x
        return Turn(matrix, middle - middle @ matrix + np.array([0.0, shift, 0.0]))

    def apart(by: FloatArray) -> FloatArray:
        here = turn_by(by).of(some)
        return np.asarray(np.minimum(cKDTree(here).query(here * mirror)[0], MIRROR_REACH))

    halves = np.quantile(some[:, 1], [0.01, 0.99])
    best = least_squares(
        apart,
        np.array([0.0, -halves.mean(), 0.0]),
        diff_step=1e-4,
        x_scale=[0.01, 0.02, 0.01],
        loss="soft_l1",
        f_scale=0.02,
        max_nfev=30,
    )
    turn = turn_by(best.x)
    found = turn.of(points)
    return turn, float(np.median(cKDTree(found).query(found[::7] * mirror)[0]))


def without_stern(points: FloatArray) -> tuple[FloatArray, tuple[float, float] | None]:
    """Points (m, 3) [m] less those of a flat stern, and its x at z = 0 [m] and slope [-]."""
    end = np.quantile(points[:, 0], 0.9995)
    late = np.flatnonzero(points[:, 0] > end - STERN_SHARE * np.ptp(points[:, 0]))
    near = points[cKDTree(points).query(points[late], 16)[1]]
    away = near - near.mean(axis=1, keepdims=True)
    normals = np.linalg.eigh(np.einsum("nij,nik->njk", away, away))[1][:, :, 0]
    face = late[np.abs(normals[:, 0]) > FACING_AFT]
    if len(face) < LEAST_FACE * len(late):
        return points, None
    x, _, z = points[face].T
    keep = np.ones(len(x), bool)
    design = np.column_stack([np.ones_like(z), z])
    for _ in range(6):
        fit = np.linalg.lstsq(design[keep], x[keep])[0]
        miss = np.abs(x - design @ fit)
        keep = miss < max(3.0 * float(np.median(miss[keep])), 0.01)
    kept = np.delete(points, face, axis=0)
    behind = kept[:, 0] > fit[0] + fit[1] * kept[:, 2] - 0.01
    return kept[~behind], (float(fit[0]), float(fit[1]))


def _is_backwards(points: FloatArray, bow: FloatArray | None) -> bool:
    """Whether the bow is at large x: where it was picked, else at the finer end."""
    low, high = np.quantile(points[:, 0], [0.002, 0.998])
    if bow is not None:
        return bool(bow[0] > 0.5 * (low + high))
    reach = 0.12 * (high - low)
    fore, aft = (
        np.quantile(np.abs(points[near, 1]), 0.9)
        for near in (points[:, 0] < low + reach, points[:, 0] > high - reach)
    )
    return bool(aft < fore)


def _require_enough(left: int, given: int) -> None:
    if left < FEWEST_POINTS:
        sentence = (
            f"The scan has too few points: {left:,} of {given:,} are left after thinning and "
            f"cleaning, and a hull needs {FEWEST_POINTS:,} or more."
        )
        raise ModelError("too-few-points", sentence)


def _require_boat(level: FloatArray, length: float) -> None:
    _require_enough(len(level), len(level))
    if not SHORTEST <= length <= LONGEST:
        sentence = (
            f"With this unit the scan is {length:,.2f} m long, which is not a boat's length "
            f"here ({SHORTEST:.0f} to {LONGEST:.0f} m): a point cloud states no unit, so "
            "choose the right one."
        )
        raise ModelError("no-scale", sentence)
    breadth = float(np.ptp(np.quantile(level[:, 1], [0.02, 0.98])))
    if not SLIMMEST <= length / max(breadth, 1e-9) <= FATTEST:
        sentence = (
            f"The scan is {length:.1f} m long and {breadth:.1f} m wide, which is not a hull's "
            "shape: cut away what surrounds her, and keep both sides."
        )
        raise ModelError("no-hull", sentence)


def _require_symmetry(points: FloatArray, off: float, spacing: float) -> None:
    breadth = float(np.ptp(np.quantile(points[:, 1], [0.01, 0.99])))
    if off > max(LOPSIDED[0] * spacing, LOPSIDED[1] * breadth):
        sentence = (
            f"The two sides of the scan differ by {1000.0 * off:.0f} mm, so no centreline is "
            "found: is it a hull, are both sides scanned, are the marks on her waterline?"
        )
        raise ModelError("no-hull", sentence)
    if (points[:, 2] < 0.0).mean() < 0.05:
        sentence = "Almost nothing lies below the waterline marks: pick them again."
        raise ModelError("no-hull", sentence)
