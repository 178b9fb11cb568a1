"""What the error of the measured lines does to the volume under a plane."""

import numpy as np

from hullchange.geometry.frame import FloatArray, IntArray, WaterPlane
from hullchange.hull.hull import Hull
from hullchange.hull.lines import READING_SD, Line, splined

STEP = 1e-4  # [m] of a difference in x
READING_SD_ALONG = 0.010  # [m] of a point's place lengthwise; common practice, no source
SPLINE_SHARE = 0.1
"""One standard deviation of the spline, as a share of spline less straight.

On a fair hull measured at 7 to 21 stations the spline's own error was a hundredth of the
straight line's or less, on a harsh one less than a tenth (own trial): a tenth is careful.
"""


def shape_covariance(
    hull: Hull,
    plane: WaterPlane,
    reading_sd_across: float = READING_SD,
    reading_sd_along: float = READING_SD_ALONG,
) -> FloatArray:
    """(4, 4) covariance of volume [m^3] and first moments (x, y, z) [m^4] under a plane.

    To first order, of the canoe body (what it does beneath the keel's root is counted too,
    which is on the careful side). Every reading errs independently, port and starboard
    alike; added is the error of splining between stations, in which all points share.

    Args:
        hull: as measured.
        plane: the water.
        reading_sd_across: [m] one standard deviation of half-breadths and heights.
        reading_sd_along: [m] of a point's x.
    """
    pull = line_gradients(hull, plane)
    deviations = np.array([reading_sd_along, reading_sd_across, reading_sd_across])
    covariance = np.zeros((4, 4))
    for line, gradient in zip(hull.lines.lines, pull, strict=True):
        moves = reading_moves(line, hull.mesh.fractions)
        if line is hull.lines.centreline:
            moves[:, 1] = 0.0
        effects = np.einsum("quc,pduc->qpd", gradient, moves) * deviations
        covariance += np.einsum("qpd,rpd->qr", effects, effects)
    method = SPLINE_SHARE * _straightening(hull, pull)
    return np.asarray(covariance + np.outer(method, method))


def straightening(hull: Hull, plane: WaterPlane) -> FloatArray:
    """(4,) change of volume and moments, to first order, with lines straight between points."""
    return _straightening(hull, line_gradients(hull, plane))


def _straightening(hull: Hull, pull: FloatArray) -> FloatArray:
    change = np.zeros(4)
    for line, gradient in zip(hull.lines.lines, pull, strict=True):
        splined_points = line.at_fraction(hull.mesh.fractions)
        x, y, z = line.points.T
        straight = np.stack([np.interp(splined_points[:, 0], x, value) for value in (y, z)])
        change += np.einsum("quc,cu->q", gradient[:, :, 1:], straight - splined_points[:, 1:].T)
    return change


def line_gradients(hull: Hull, plane: WaterPlane) -> FloatArray:
    """(k, 4, n, 3) change of volume and moments with the points of the lines.

    Port follows starboard; n counts the mesh's fractions of the lines' lengths.
    """
    body = hull.mesh.body
    gradient = _vertex_gradients(body.surface.vertices, body.surface.faces, plane)
    both = gradient[:, body.starboard]
    apart = (body.port != body.starboard)[None, :, :, None]
    both = both + np.where(apart, gradient[:, body.port] * np.array([1.0, -1.0, 1.0]), 0.0)
    return np.asarray(np.einsum("qurc,rkcd->kqud", both, hull.mesh.rows))


def _vertex_gradients(vertices: FloatArray, faces: IntArray, plane: WaterPlane) -> FloatArray:
    """(4, n, 3) derivative of volume and first moments under a plane with every vertex.

    The volume swept by a surface is its normal movement, summed over its wet part.
    """
    piece, share, corner_share = _wet_pieces(plane.height_above(vertices)[faces])
    own = faces[piece]
    a, b, c = vertices[own].transpose(1, 0, 2)
    normal = 0.5 * np.cross(b - a, c - a) * share[:, None]
    levers = corner_share @ vertices[own]
    total = corner_share.sum(axis=1)
    weights = np.empty((len(piece), 3, 4))
    weights[..., 0] = total / 3.0
    weights[..., 1:] = np.einsum("pdk,pda->pka", corner_share, levers) / 12.0
    weights[..., 1:] += total[:, :, None] * levers.sum(axis=1)[:, None, :] / 12.0
    gradient = np.empty((4, len(vertices), 3))
    for q, axis in np.ndindex(4, 3):
        pull = weights[..., q] * normal[:, axis, None]
        gradient[q, :, axis] = np.bincount(own.ravel(), pull.ravel(), len(vertices))
    return gradient


def _wet_pieces(height: FloatArray) -> tuple[IntArray, FloatArray, FloatArray]:
    """The wet part of triangles with corner heights (m, 3), as signed pieces.

    A triangle with two wet corners is the whole of it less the dry tip.

    Returns:
        (p,) triangle, (p,) signed share of its area, (p, 3, 3) shares of the triangle's corners
        (last axis) in the corners of the piece.
    """
    wet = height < 0.0
    count = wet.sum(axis=1)
    whole = np.flatnonzero(count >= 2)
    cut = np.flatnonzero((count == 1) | (count == 2))
    wet_tip = count[cut] == 1
    tip = np.argmax(wet[cut] == wet_tip[:, None], axis=1)
    level = height[cut]
    own = np.take_along_axis(level, tip[:, None], axis=1)
    at_tip = np.eye(3)[tip]
    reach = np.where(at_tip > 0.0, 0.0, own / np.where(at_tip > 0.0, 1.0, own - level))
    area = np.prod(np.where(at_tip > 0.0, 1.0, reach), axis=1) * np.where(wet_tip, 1.0, -1.0)
    corners = reach[..., None] * np.eye(3) + (1.0 - reach)[..., None] * at_tip[:, None]
    return (
        np.concatenate([whole, cut]).astype(np.int32),
        np.concatenate([np.ones(len(whole)), area]),
        np.concatenate([np.broadcast_to(np.eye(3), (len(whole), 3, 3)), corners]),
    )


def reading_moves(line: Line, fractions: FloatArray) -> FloatArray:
    """(p, 3, n, 3) movement of the line's points at fractions with each reading's x, y, z."""
    count = len(line.points)
    moves = np.zeros((count, 3, len(fractions), 3))
    x = line.at_fraction(fractions)[:, 0]
    units = splined(np.column_stack([line.points[:, 0], np.eye(count)]), line.knuckles)
    moves[:, 1, :, 1] = moves[:, 2, :, 2] = units(x).T
    for point in range(count):
        ahead, behind = (_moved_along(line, point, by, fractions) for by in (STEP, -STEP))
        moves[point, 0] = (ahead - behind) / (2.0 * STEP)
    return moves


def _moved_along(line: Line, point: int, by: float, fractions: FloatArray) -> FloatArray:
    """(n, 3) points at fractions of the line with one reading moved in x."""
    points = line.points.copy()
    points[point, 0] += by
    x = points[0, 0] + fractions * (points[-1, 0] - points[0, 0])
    return np.column_stack([x, splined(points, line.knuckles)(x)])
