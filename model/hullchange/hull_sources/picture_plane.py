"""From a picture to the plane that is drawn on it, by marks of known place."""

from dataclasses import dataclass

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray

FLAT_MARKS, PHOTO_MARKS = 3, 6  # fewest, of a flat scan and of a photo
PICK_SD = 1.0  # [px] one standard deviation of a pick by hand; own trial
IN_A_ROW = 0.08  # spread of the marks across their row, as a share of that along it
POORLY_SPREAD = 1e-3  # of the eighth to the largest singular value of a homography's equations
MARK_OFF = 4.0  # standard deviations by which a mark may miss
MOVED = 0.5  # [px] of a mark, for the derivative of what follows from it


@dataclass(frozen=True, eq=False)
class PicturePlane:
    """The map from a picture to its plane, fitted to marks.

    Attributes:
        matrix: (3, 3) from [px] to [m], homogeneous.
        off: (n,) [m] by which each mark misses its place.
        pick_sd: [px] one standard deviation of a pick, as the marks show it.
        scale: [m] of a pixel at the middle of the marks.
        by_marks: (2 n, 3, 3) matrices from [px] to [m], each with one coordinate of one mark
            moved by ``MOVED``.
    """

    matrix: FloatArray
    off: FloatArray
    pick_sd: float
    scale: float
    by_marks: FloatArray

    def placed(self, pixels: FloatArray) -> FloatArray:
        """Places (k, 2) [m] of pixels (k, 2)."""
        return _mapped(self.matrix, pixels)

    def errors(self, pixels: FloatArray) -> FloatArray:
        """(k,) [m] one standard deviation of each place, the marks' errors included.

        Args:
            pixels: (k, 2) [px].
        """
        places = self.placed(pixels)
        moved = np.array([_mapped(matrix, pixels) - places for matrix in self.by_marks])
        by_marks = (moved**2).sum(axis=(0, 2)) / 2.0 * (self.pick_sd / MOVED) ** 2
        return np.asarray(np.sqrt(by_marks + (self.pick_sd * self.scale) ** 2))


def picture_plane(pixels: FloatArray, places: FloatArray, *, is_flat: bool) -> PicturePlane:
    """The plane of a picture, of a flat scan by three marks or more, of a photo by six.

    Args:
        pixels: (n, 2) [px] where the marks were picked.
        places: (n, 2) [m] where they are.
        is_flat: whether the page lay flat in a scanner, or comes from a PDF.

    Raises:
        ModelError: ``no-scale``, ``too-few-marks``, ``marks-in-line``, ``marks-disagree``.
    """
    _require_marks(pixels, places, is_flat=is_flat)
    fit = _affine if is_flat else _homography
    matrix = fit(pixels, places)
    off = np.linalg.norm(_mapped(matrix, pixels) - places, axis=1)
    scale = float(_scale(matrix, pixels.mean(axis=0)))
    freedom = 2 * len(pixels) - (6 if is_flat else 8)
    seen = np.sqrt((off**2).sum() / freedom) / scale if freedom > 0 else 0.0
    pick_sd = max(PICK_SD, float(seen))
    _require_agreement(off, PICK_SD * scale, places)
    moved = []
    for k in range(pixels.size):
        shifted = pixels.copy()
        shifted.flat[k] += MOVED
        moved.append(fit(shifted, places))
    return PicturePlane(matrix, off, pick_sd, scale, np.array(moved))


def _require_marks(pixels: FloatArray, places: FloatArray, *, is_flat: bool) -> None:
    fewest = FLAT_MARKS if is_flat else PHOTO_MARKS
    if len(pixels) == 0:
        sentence = (
            f"The picture has no scale: pick marks whose positions are known, {FLAT_MARKS} on "
            f"a flat scan or {PHOTO_MARKS} on a photo."
        )
        raise ModelError("no-scale", sentence)
    if len(pixels) < fewest:
        kind = "flat scan" if is_flat else "photo"
        sentence = (
            f"A {kind} needs at least {fewest} marks of known position, spread over the page; "
            f"there are {len(pixels)}."
        )
        raise ModelError("too-few-marks", sentence)
    for points in (pixels, places):
        along, across = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
        if across <= IN_A_ROW * along:
            raise _in_a_row()
    if not is_flat:
        spread = np.linalg.svd(_equations(pixels, places)[0], compute_uv=False)
        if spread[7] < POORLY_SPREAD * spread[0]:
            raise _in_a_row()


def _in_a_row() -> ModelError:
    sentence = (
        "The marks lie in a row, so the tilt of the picture is unknown: pick marks spread "
        "over the page, high and low, left and right."
    )
    return ModelError("marks-in-line", sentence)


def _require_agreement(off: FloatArray, sd: float, places: FloatArray) -> None:
    """Refuse marks of which one was mixed up or picked elsewhere."""
    size = float(np.linalg.norm(np.ptp(places, axis=0)))
    worst = int(np.argmax(off))
    if off[worst] > max(0.02 * size, MARK_OFF * sd):
        a, b = places[worst]
        sentence = (
            f"The marks disagree: mark {worst + 1}, at {a:.2f} and {b:.2f} m, is off by "
            f"{1000.0 * off[worst]:.0f} mm. Check its position and pick it again."
        )
        raise ModelError("marks-disagree", sentence)


def _mapped(matrix: FloatArray, pixels: FloatArray) -> FloatArray:
    found = np.column_stack([pixels, np.ones(len(pixels))]) @ matrix.T
    return np.asarray(found[:, :2] / found[:, 2:])


def _scale(matrix: FloatArray, at: FloatArray) -> float:
    corners = _mapped(matrix, at + np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]))
    across, down = corners[1] - corners[0], corners[2] - corners[0]
    return float(np.sqrt(abs(across[0] * down[1] - across[1] * down[0])))


def _affine(pixels: FloatArray, places: FloatArray) -> FloatArray:
    rows = np.linalg.lstsq(np.column_stack([pixels, np.ones(len(pixels))]), places)[0].T
    return np.vstack([rows, [0.0, 0.0, 1.0]])


def _homography(pixels: FloatArray, places: FloatArray) -> FloatArray:
    """The map by its linear equations in scaled coordinates.

    Source: R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision, 2nd ed.,
    4.1 and 4.4 (memory).
    """
    equations, before, after = _equations(pixels, places)
    found = np.linalg.svd(equations)[2][-1].reshape(3, 3)
    return np.asarray(np.linalg.inv(after) @ found @ before)


def _equations(
    pixels: FloatArray, places: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    before, after = _scaling(pixels), _scaling(places)
    ones = np.ones(len(pixels))
    p = np.column_stack([pixels, ones]) @ before.T
    q = np.column_stack([places, ones]) @ after.T
    none = np.zeros_like(p)
    upper = np.column_stack([-p, none, q[:, :1] * p])
    lower = np.column_stack([none, -p, q[:, 1:2] * p])
    return np.vstack([upper, lower]), before, after


def _scaling(points: FloatArray) -> FloatArray:
    middle = points.mean(axis=0)
    size = np.sqrt(2.0) / np.linalg.norm(points - middle, axis=1).mean()
    return np.array([[size, 0, -size * middle[0]], [0, size, -size * middle[1]], [0, 0, 1.0]])
