"""What the errors of the measured lines do to the hull under a plane."""

from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np

from hullchange.geometry.frame import FloatArray, IntArray, WaterPlane
from hullchange.geometry.surface import Surface
from hullchange.hull.hull import Hull
from hullchange.hull.lines import HullLine, Lines, splined
from hullchange.hull.mesh import HullMesh, coarse_mesh

STEP = 1e-4  # [m] of a difference in x
ALONG = 2.0  # error of a point's place lengthwise over that across; common practice, no source
WAVES = 4
"""Of an error that runs along a line, in how many forms: even, sloping, and twice bent."""
SPLINE_SHARE = 0.1
"""One standard deviation of the spline, as a share of spline less straight.

On a fair hull measured at 7 to 21 stations the spline's own error was a hundredth of the
straight line's or less, on a harsh one less than a tenth (own trial): a tenth is careful.
"""
GUESSED_SHARE = 0.3
"""One standard deviation of an appendage's volume by proportions; an own choice."""
LENGTHWISE, A_POINT, AT_MOST = 40, 4, 160
"""Divisions lengthwise of the mesh that errors are taken on: so many at least, so many for each
point of a line, and so many at most. Against ten times as many, deviations are the same within
1 % (Saltmarrow: 0.1 % of the readings', 4 % of the splining's)."""
HALFWAY = 0.5 / np.sqrt(3.0)
"""Where Gauss takes a cubic along an edge, from its middle."""
FLAT = 1e-12
"""Square of the slope [rad^2] under which a face lies in the water, not through it."""


Pieces: TypeAlias = tuple[IntArray, FloatArray, FloatArray]
"""(p, 3) corners of the faces they are of, (p,) signed share of its area, (p, 3, 3) shares of
the face's corners (last axis) in the corners of the piece."""


@dataclass(frozen=True, eq=False)
class ShapeErrors:
    """A hull, and how each of its independent errors of measuring moves it.

    Every reading errs by itself, port and starboard alike; the last error is that of splining
    between stations, in which all points share. It is the canoe body's alone: what it does
    beneath the keel's root is counted too, which is on the careful side.

    Attributes:
        mesh: the canoe body, coarse.
        moves: of each line (e, n, 3) [m] movement of its points, at the mesh's fractions, with
            one standard deviation of each reading's error.
        method: (k, n, 3) [m] the same of all lines with the error of splining.
        guessed: appendages whose volume is not measured, an error for each, the last of all.
    """

    mesh: HullMesh
    moves: tuple[FloatArray, ...]
    method: FloatArray
    guessed: tuple[Surface, ...] = ()

    @property
    def count(self) -> int:
        """Number of errors."""
        return sum(map(len, self.moves)) + 1 + len(self.guessed)

    def below(self, plane: WaterPlane) -> FloatArray:
        """(4, m) volume [m^3] and first moments x, y, z [m^4] that each adds under a plane."""
        body = self.mesh.body.surface
        height = plane.height_above(body.vertices)[body.faces]
        # a face with two wet corners is the whole of it less the dry tip
        whole = np.flatnonzero((height < 0.0).sum(axis=1) >= 2)
        cut = _cut_pieces(body.faces, height)
        own = np.concatenate([body.faces[whole], cut[0]]).ravel()
        pulls = np.concatenate([self._whole[whole], _pulls(body.vertices, cut)])
        columns = pulls.reshape(-1, 12).T
        gradient = np.array([np.bincount(own, c, len(body.vertices)) for c in columns])
        of_lines = self._by_error(gradient.reshape(4, 3, -1).transpose(0, 2, 1))
        if not self.guessed:
            return of_lines
        return np.hstack([of_lines, *(_swollen(one, plane) for one in self.guessed)])

    @cached_property
    def _whole(self) -> FloatArray:
        """(f, 3, 12) what each corner of each face pulls where it is wholly wet."""
        body = self.mesh.body.surface
        count = len(body.faces)
        all_of_it = np.broadcast_to(np.eye(3), (count, 3, 3))
        return _pulls(body.vertices, (body.faces, np.ones(count), all_of_it))

    def waterplane_inertia(self, plane: WaterPlane, centre: FloatArray) -> FloatArray:
        """(m,) [m^4] that each adds to the second moment of a waterplane about her length.

        Args:
            plane: the water.
            centre: (3,) [m] of the whole waterplane.
        """
        body = self.mesh.body.surface
        across = np.array([0.0, plane.up[2], -plane.up[1]])
        along = (plane, centre, across / float(np.linalg.norm(across)))
        gradient = _waterline_gradient(body.vertices, body.faces, *along)
        return np.append(self._by_error(gradient[None])[0], np.zeros(len(self.guessed)))

    def _by_error(self, of_vertices: FloatArray) -> FloatArray:
        """(q, m) changes of q figures whose derivatives by the vertices are (q, v, 3)."""
        pull = line_derivatives(self.mesh, of_vertices)
        of_readings = [
            np.tensordot(pull[:, k], moves, ((1, 2), (1, 2)))
            for k, moves in enumerate(self.moves)
        ]
        of_method = np.tensordot(pull, self.method, 3)
        return np.hstack([*of_readings, of_method[:, None]])


def shape_errors(
    hull: Hull,
    reading_sd_across: float | None = None,
    reading_sd_along: float | None = None,
) -> ShapeErrors:
    """How measuring errors change a hull, to first order.

    Args:
        hull: as measured.
        reading_sd_across: [m] one standard deviation of half-breadths and heights, the hull's
            own if left out.
        reading_sd_along: [m] of a point's x, twice that if left out.
    """
    across = hull.exactness.plus_minus if reading_sd_across is None else reading_sd_across
    along = ALONG * across if reading_sd_along is None else reading_sd_along
    deviations = np.array([along, across, across])
    most = max(len(line.points) for line in hull.lines.lines)
    divisions = min(max(LENGTHWISE, A_POINT * most), AT_MOST)
    mesh = coarse_mesh(hull.lines, hull.deck, divisions)
    moves = []
    for line in hull.lines.lines:
        if hull.exactness.runs_along:
            by_error = running_moves(mesh.fractions) * across
        else:
            by_error = reading_moves(line, mesh.fractions) * deviations[:, None, None]
        if line is hull.lines.centreline:
            by_error = by_error[:, ::2]  # its half-breadth is zero
        moves.append(by_error.reshape(-1, *by_error.shape[2:]))
    method = SPLINE_SHARE * straight_line_moves(hull.lines, mesh.fractions)
    guessed = tuple(hull.appendages[name].surface for name in hull.guessed)
    return ShapeErrors(mesh, tuple(moves), method, guessed)


def _swollen(body: Surface, plane: WaterPlane) -> FloatArray:
    """(4, 1) volume [m^3] and first moments [m^4] that one error of an appendage's adds.

    It is taken whole at its centre, by the share of its corners under the plane.
    """
    wet = float(np.mean(plane.height_above(body.vertices) < 0.0))
    a, b, c = body.vertices[body.faces].transpose(1, 0, 2)
    six = np.einsum("fd,fd->f", a, np.cross(b, c))  # times the volume below each face
    whole = np.concatenate([[six.sum() / 6.0], six @ (a + b + c) / 24.0])
    return np.asarray(GUESSED_SHARE * wet * whole[:, None])


def running_moves(fractions: FloatArray) -> FloatArray:
    """(p, 3, n, 3) movement of a line's points with each error that runs along it, by axis.

    One standard deviation [-] at a point on average: even, sloping and bent errors of one size,
    each independent of the others.

    Args:
        fractions: (n,) fractions of the line's length.
    """
    forms = np.polynomial.legendre.legvander(2.0 * fractions - 1.0, WAVES - 1).T
    forms *= np.sqrt((2.0 * np.arange(WAVES) + 1.0) / WAVES)[:, None]
    moves = np.zeros((WAVES, 3, len(fractions), 3))
    for axis in range(3):
        moves[:, axis, :, axis] = forms
    return moves


def straight_line_moves(lines: Lines, fractions: FloatArray) -> FloatArray:
    """(k, n, 3) [m] from the lines to straight lines between the measured points.

    Args:
        lines: the hull's lines.
        fractions: (n,) fractions of the lines' lengths.
    """
    moves = np.zeros((len(lines.lines), len(fractions), 3))
    for k, line in enumerate(lines.lines):
        curved = line.at_fraction(fractions)
        x, y, z = line.points.T
        straight = [np.interp(curved[:, 0], x, value) for value in (y, z)]
        moves[k, :, 1:] = np.stack(straight, axis=1) - curved[:, 1:]
    return moves


def line_derivatives(mesh: HullMesh, of_vertices: FloatArray) -> FloatArray:
    """(q, k, n, 3) derivatives of figures by the lines' points, of those by vertices (q, v, 3).

    Port follows starboard; n counts the mesh's fractions of the lines' lengths.
    """
    body = mesh.body
    both = of_vertices[:, body.starboard]
    apart = (body.port != body.starboard)[None, :, :, None]
    both = both + np.where(apart, of_vertices[:, body.port] * np.array([1.0, -1.0, 1.0]), 0.0)
    # (q, n, k, 3): einsum would take five times as long
    return np.tensordot(both, mesh.rows, ((2, 3), (0, 2))).transpose(0, 2, 1, 3)


def _pulls(vertices: FloatArray, pieces: Pieces) -> FloatArray:
    """(p, 3, 12) derivatives of volume and first moments by the corners of pieces of faces.

    The volume swept by a surface is its normal movement, summed over its wet part.
    """
    own, share, corner_share = pieces
    a, b, c = vertices[own].transpose(1, 0, 2)
    normal = 0.5 * np.cross(b - a, c - a) * share[:, None]
    levers = corner_share @ vertices[own]
    total = corner_share.sum(axis=1)
    weights = np.empty((len(own), 3, 4))
    weights[..., 0] = total / 3.0
    weights[..., 1:] = corner_share.transpose(0, 2, 1) @ levers / 12.0
    weights[..., 1:] += total[:, :, None] * levers.sum(axis=1)[:, None, :] / 12.0
    pulls = weights[..., None] * normal[:, None, None]
    return np.asarray(pulls.reshape(len(own), 3, 12))


def _waterline_gradient(
    vertices: FloatArray,
    faces: IntArray,
    plane: WaterPlane,
    centre: FloatArray,
    across: FloatArray,
) -> FloatArray:
    """(v, 3) derivative of a waterplane's second moment about an axis with every vertex.

    Where a face that is cut moves outwards, the waterline along it moves outwards with it.

    Args:
        vertices: (v, 3) [m].
        faces: (f, 3) of them.
        plane: the water.
        centre: (3,) [m] that the axis goes through.
        across: (3,) unit vector in the plane, square to the axis.
    """
    height = plane.height_above(vertices)[faces]
    wet = height < 0.0
    count = wet.sum(axis=1)
    cut = np.flatnonzero((count == 1) | (count == 2))
    tip = np.argmax(wet[cut] == (count[cut] == 1)[:, None], axis=1)
    turns = (tip[:, None] + np.arange(3)) % 3
    own = np.take_along_axis(faces[cut], turns, axis=1)
    level = np.take_along_axis(height[cut], turns, axis=1)
    first, second = (level[:, 0] / (level[:, 0] - level[:, c]) for c in (1, 2))
    corners = vertices[own]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    upright = normal @ plane.up
    squared = (normal**2).sum(axis=1)
    sideways = np.sqrt(np.maximum(0.0, squared - upright**2))
    # a face without area, or flat in the water, moves no waterline along it
    sideways[sideways**2 <= FLAT * squared] = np.inf
    gradient = np.zeros_like(vertices)
    for share in (0.5 - HALFWAY, 0.5 + HALFWAY):
        # shares of the three corners in a point of the waterline
        one, two = (1.0 - share) * first, share * second
        shares = np.stack([1.0 - one - two, one, two], axis=1)
        arm = (np.einsum("pc,pcd->pd", shares, corners) - centre) @ across
        ends = [
            corners[:, 0] + s[:, None] * (corners[:, c] - corners[:, 0])
            for s, c in ((first, 1), (second, 2))
        ]
        length = np.linalg.norm(ends[1] - ends[0], axis=1)
        outwards = (0.5 * length * arm**2 / sideways)[:, None] * normal
        for axis in range(3):
            pull = shares * outwards[:, axis, None]
            gradient[:, axis] += np.bincount(own.ravel(), pull.ravel(), len(vertices))
    return gradient


def _cut_pieces(faces: IntArray, height: FloatArray) -> Pieces:
    """The wet tips of faces that are cut, and less the dry tips of those that are mostly wet.

    Args:
        faces: (f, 3).
        height: (f, 3) of their corners above the water.
    """
    wet = height < 0.0
    count = wet.sum(axis=1)
    cut = np.flatnonzero((count == 1) | (count == 2))
    wet_tip = count[cut] == 1
    tip = np.argmax(wet[cut] == wet_tip[:, None], axis=1)
    level = height[cut]
    own = np.take_along_axis(level, tip[:, None], axis=1)
    at_tip = np.eye(3)[tip]
    reach = np.where(at_tip > 0.0, 0.0, own / np.where(at_tip > 0.0, 1.0, own - level))
    area = np.prod(np.where(at_tip > 0.0, 1.0, reach), axis=1) * np.where(wet_tip, 1.0, -1.0)
    corners = reach[..., None] * np.eye(3) + (1.0 - reach)[..., None] * at_tip[:, None]
    return faces[cut], area, corners


def reading_moves(line: HullLine, fractions: FloatArray) -> FloatArray:
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


def _moved_along(line: HullLine, point: int, by: float, fractions: FloatArray) -> FloatArray:
    """(n, 3) points at fractions of the line with one reading moved in x."""
    points = line.points.copy()
    points[point, 0] += by
    x = points[0, 0] + fractions * (points[-1, 0] - points[0, 0])
    return np.column_stack([x, splined(points, line.knuckles)(x)])
