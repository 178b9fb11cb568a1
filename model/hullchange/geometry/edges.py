"""Stations along the edges of a plate, with the steel beside them, to find what touches."""

from dataclasses import dataclass
from math import ceil, pi

import numpy as np

from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.outline import FlatOutline, Segment
from hullchange.geometry.plate import Planar, Plate

STEP = 5e-3  # [m] between stations of an edge
OF_TUBES = 1e-3  # [m] the same at the ends of a tube, which may stand across an edge
FEWEST = 2  # stations of the shortest edge
INTO = 15e-3  # [m] of the plate, square to its edge, that counts
_HAIR = 1e-5  # [m]
_ROUND = 5e-5  # [m] how far straight pieces of an outline may leave it


@dataclass(frozen=True, eq=False)
class EdgeStations:
    """A plate with stations along its edges; a tube as the plate it is rolled from.

    Attributes:
        plate: the steel.
        at: (n, 3) middles of short pieces of the edges, on the mid-surface [m].
        way: (n, 3) unit vectors along the edge.
        out: (n, 3) unit vectors out of the plate, square to the edge.
        normal: (n, 3) unit normals [-] of the plate.
        run: (n,) length [m] of edge that each station represents.
        side: (n,) number of the segment each lies on.
        deep: (n,) depth of steel behind the edge [m], at most ``INTO``.
        rings: (m, 2, 2) straight pieces of the outline in the flat [m].
        low: (3,) smallest coordinates of the steel [m].
        high: (3,) largest coordinates [m].
    """

    plate: Plate
    at: FloatArray
    way: FloatArray
    out: FloatArray
    normal: FloatArray
    run: FloatArray
    side: FloatArray
    deep: FloatArray
    rings: FloatArray
    low: FloatArray
    high: FloatArray

    @property
    def half(self) -> float:
        """Half the plate's thickness [m]."""
        return self.plate.thickness / 2.0

    @property
    def is_flat(self) -> bool:
        """Whether the plate is flat."""
        return isinstance(self.plate.map, Planar)


def edge_stations(steel: Plate) -> EdgeStations:
    """The stations along the edges of a plate."""
    plate = unrolled_tube(steel) if steel.kind == "tube" else steel
    flat, way, out, run, side = _stations(plate, steel.kind == "tube")
    rings = np.concatenate([_pieces(o) for o in (plate.outer, *plate.holes)])
    within, _ = steel_spans(flat - 1e-6 * out, -out, rings)
    deep = np.clip(np.nan_to_num(within[:, 1], nan=INTO) / 2.0, 1e-4, INTO)
    at, normal = plate.map.to_boat(flat), plate.map.normals(flat)
    ways, outs = _in_space(plate, flat, (way, out), (at, normal))
    grown = np.concatenate([at, steel.surface().vertices])
    low, high = grown.min(axis=0), grown.max(axis=0)
    return EdgeStations(plate, at, ways, outs, normal, run, side, deep, rings, low, high)


def unrolled_tube(tube: Plate) -> Plate:
    """A tube as its wall laid flat: its mid-surface, thickness its wall."""
    assert isinstance(tube.map, Planar)
    frame, (diameter, wall) = tube.map.frame, tube.section
    radius = (diameter - wall) / 2.0
    start = frame.origin - tube.thickness / 2.0 * frame.normal
    shell = Cone(start + radius * frame.u, frame.normal, frame.u, frame.v, radius, 0.0)
    outer = FlatOutline.rectangle((0.0, -pi * radius), (tube.thickness, pi * radius))
    return Plate(tube.id, "plate", outer, wall, shell)


def _stations(
    plate: Plate, is_tube: bool
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]:
    """Flat middles (n, 2), ways, outward ways, lengths (n,) and numbers of segments."""
    rows: list[tuple[FloatArray, ...]] = []
    number = 0
    for k, outline in enumerate((plate.outer, *plate.holes)):
        outwards = 1.0 if outline.runs_left == (k == 0) else -1.0
        for segment in outline.segments:
            if not (is_tube and _is_its_own_seam(segment)):
                step_length = OF_TUBES if is_tube else STEP
                row = segment.spread(max(FEWEST, ceil(segment.length / step_length)))
                step = np.diff(row, axis=0)
                length = np.hypot(*step.T)
                way = step / length[:, None]
                out = outwards * np.stack([way[:, 1], -way[:, 0]], axis=1)
                middle = (row[1:] + row[:-1]) / 2.0
                rows.append((middle, way, out, length, np.full(len(step), number)))
            number += 1
    flat, way, out, run, side = (np.concatenate(column) for column in zip(*rows, strict=True))
    return flat, way, out, run, side


def _is_its_own_seam(segment: Segment) -> bool:
    """Whether a segment of a tube's wall, laid flat, is the edge along which it is closed."""
    return abs(segment.start[1] - segment.end[1]) < 1e-9


def _pieces(outline: FlatOutline) -> FloatArray:
    loop = outline.polyline(_ROUND)
    return np.stack([loop, np.roll(loop, -1, axis=0)], axis=1)


def _in_space(
    plate: Plate,
    flat: FloatArray,
    ways: tuple[FloatArray, FloatArray],
    there: tuple[FloatArray, FloatArray],
) -> tuple[FloatArray, FloatArray]:
    """Ways along and out of the edge (n, 3), of those in the flat."""
    (way, out), (at, normal) = ways, there
    to_boat = plate.map.to_boat
    along = to_boat(flat + _HAIR * way) - to_boat(flat - _HAIR * way)
    along = along / np.linalg.norm(along, axis=1)[:, None]
    across = np.cross(along, normal)
    leaves = ((to_boat(flat + _HAIR * out) - at) * across).sum(axis=1)
    return along, across * np.sign(leaves)[:, None]


def steel_spans(
    foot: FloatArray, way: FloatArray, rings: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Where lines in the flat enter and leave the steel, and whether they start in it.

    Args:
        foot: (k, 2) [m] start of each line.
        way: (k, 2) unit vectors.
        rings: (m, 2, 2) [m] straight pieces of the outline.

    Returns:
        (k, 2) [m] from the foot to both ends of the stretch of steel at the foot, else of the
        nearest; NaN where there is none. (k,) whether the foot lies in the steel.
    """
    a, b = rings[None, :, 0] - foot[:, None], rings[None, :, 1] - foot[:, None]
    d = b - a
    cross = way[:, None, 0] * d[..., 1] - way[:, None, 1] * d[..., 0]
    with np.errstate(all="ignore"):
        s = (a[..., 0] * d[..., 1] - a[..., 1] * d[..., 0]) / cross
        t = (a[..., 0] * way[:, None, 1] - a[..., 1] * way[:, None, 0]) / cross
    s = np.where((np.abs(cross) > 1e-12) & (t >= -1e-9) & (t < 1 - 1e-9), s, np.nan)
    far = np.full((len(foot), 2), np.inf)
    over = np.concatenate([np.sort(np.where(s > 0, s, np.inf), axis=1), far], axis=1)
    under = np.concatenate([-np.sort(np.where(s <= 0, -s, np.inf), axis=1), -far], axis=1)
    inside = (np.isfinite(over).sum(axis=1) % 2) == 1
    ahead = over[:, 0] < -under[:, 0]
    low = np.where(inside, under[:, 0], np.where(ahead, over[:, 0], under[:, 1]))
    high = np.where(inside, over[:, 0], np.where(ahead, over[:, 1], under[:, 0]))
    none = ~(np.isfinite(low) & np.isfinite(high))
    low[none], high[none] = np.nan, np.nan
    return np.stack([low, high], axis=1), inside
