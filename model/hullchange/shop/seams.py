"""Seams: where plates touch, found from their edges and the surfaces they lie on.

Every edge is sampled; each sample is put to the surface of every other plate near by. Plates
are drawn to their mid-surfaces, so one may touch another's middle or its face.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, radians
from typing import Literal

import numpy as np
import shapely
from scipy.spatial import cKDTree

from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.outline import Outline
from hullchange.geometry.plate import Planar, Plate
from hullchange.shop.contour import contour_of, polygon_of

STEP = 5e-3  # [m] between samples of an edge
GAP = 2e-3  # [m] two plates may stand apart and still be welded (common practice, no source)
ALIKE = radians(20.0)  # below it two plates lie in one plane
LEAST = 10e-3  # [m] shortest seam that counts
FARTHEST = 30e-3  # [m] an edge that comes farther off is not meant to touch
ALONG = 0.94  # cosine between edges that run together
_HAIR = 1e-4  # [m]
_NEIGHBOURS = 8  # at a corner the nearest samples lie on the other edge

Kind = Literal["butt", "corner", "tee", "lap"]


@dataclass(frozen=True, eq=False)
class Edges:
    """Samples of all edges of one plate.

    Attributes:
        at: (n, 3) middles of short pieces of the edges, on the mid-surface [m].
        run: (n,) length each stands for [m].
        way: (n, 3) unit vectors along the edge.
        out: (n, 3) unit normals of the plate there.
        side: (n,) number of the segment each lies on.
    """

    at: FloatArray
    run: FloatArray
    way: FloatArray
    out: FloatArray
    side: FloatArray


@dataclass(frozen=True, eq=False)
class Seam:
    """Two plates that touch.

    Attributes:
        first: number of the plate whose edge it is.
        second: number of the plate it lies on.
        kind: butt and corner are edge to edge, tee and lap an edge on a face.
        length: [m].
        angle: between the plates [rad], 0 in one plane.
        at: (n, 3) middles of its samples [m], in order along the edges.
        run: (n,) length of each [m].
        above: True where it lies on the side its second plate's normal points to.
    """

    first: int
    second: int
    kind: Kind
    length: float
    angle: float
    at: FloatArray
    run: FloatArray
    above: bool


def edges_of(plate: Plate) -> Edges:
    """The samples of a plate's edges; of a tube, of both its ends."""
    if plate.kind == "tube":
        return _ends_of_tube(plate)
    flat, run, way, side, number = [], [], [], [], 0
    for outline in (plate.outer, *plate.holes):
        for segment in outline.segments:
            row = segment.spread(max(1, ceil(segment.length / STEP)))
            step = np.diff(row, axis=0)
            flat.append((row[1:] + row[:-1]) / 2.0)
            run.append(np.hypot(*step.T))
            way.append(step)
            side.append(np.full(len(step), number))
            number += 1
    at, ways = np.concatenate(flat), np.concatenate(way)
    reach = 1e-6 * ways / np.hypot(*ways.T)[:, None]
    along = plate.map.to_boat(at + reach) - plate.map.to_boat(at - reach)
    return Edges(
        plate.map.to_boat(at),
        np.concatenate(run),
        along / np.linalg.norm(along, axis=1)[:, None],
        plate.map.normals(at),
        np.concatenate(side),
    )


def _ends_of_tube(plate: Plate) -> Edges:
    assert isinstance(plate.map, Planar)
    frame, (diameter, wall) = plate.map.frame, plate.section
    ring = Plate(
        "end", "plate", Outline.circle((0.0, 0.0), (diameter - wall) / 2.0), wall, plate.map
    )
    ends = []
    for reach in (-plate.thickness / 2.0, plate.thickness / 2.0):
        moved = Frame(frame.origin + reach * frame.normal, frame.u, frame.v)
        end = edges_of(Plate("end", "plate", ring.outer, wall, Planar(moved)))
        radial = np.cross(end.way, end.out)
        ends.append(Edges(end.at, end.run, end.way, radial, end.side))
    return Edges(
        *(np.concatenate([getattr(e, name) for e in ends]) for name in Edges.__annotations__)
    )


@dataclass(frozen=True, eq=False)
class _Body:
    """One plate with what is asked of it again and again."""

    plate: Plate
    edges: Edges
    region: shapely.Polygon
    rim: shapely.Geometry
    low: FloatArray
    high: FloatArray

    @property
    def gauge(self) -> float:
        return self.plate.gauge


def _body(plate: Plate) -> _Body:
    edges = edges_of(plate)
    region = polygon_of(tuple(contour_of(o) for o in (plate.outer, *plate.holes)))
    inside = edges.at if plate.kind == "tube" else plate.surface().vertices
    return _Body(plate, edges, region, region.boundary, inside.min(axis=0), inside.max(axis=0))


def seams_of(plates: Sequence[Plate]) -> tuple[Seam, ...]:
    """Every seam between plates, each length once.

    Where three plates meet along one line they are joined by two seams, not three.
    """
    bodies = [_body(plate) for plate in plates]
    edge_to_edge: list[Seam] = []
    on_faces: list[Seam] = []
    for i, one in enumerate(bodies):
        for j, other in enumerate(bodies):
            if i == j or _apart(one, other) or other.plate.kind == "tube":
                continue
            both, face = _touching(one, other)
            if i < j:
                edge_to_edge += _seams(i, j, bodies, both, ("butt", "corner"))
            on_faces += _seams(i, j, bodies, face, ("lap", "tee"))
    return (*_without_rings(edge_to_edge), *on_faces)


@dataclass(frozen=True)
class Misfit:
    """An edge that touches another plate over a part of its run and stands off over the rest.

    Attributes:
        first: number of the plate whose edge it is.
        second: number of the plate it should lie on.
        touching: length that touches [m].
        off: length that stands off [m].
        gap: widest of it [m].
    """

    first: int
    second: int
    touching: float
    off: float
    gap: float


def misfits_of(plates: Sequence[Plate]) -> tuple[Misfit, ...]:
    """Every edge that meets a plate over a part of its run only, gaps up to ``FARTHEST``."""
    bodies = [_body(plate) for plate in plates]
    return tuple(
        misfit
        for i, one in enumerate(bodies)
        for j, other in enumerate(bodies)
        if i != j and other.plate.kind != "tube" and not _apart(one, other)
        for misfit in _misfits(i, j, one, other)
    )


def _misfits(i: int, j: int, one: _Body, other: _Body) -> list[Misfit]:
    edges, touches = one.edges, (one.gauge + other.gauge) / 2.0 + GAP
    flat = other.plate.map.to_flat(edges.at)
    away = np.linalg.norm(edges.at - other.plate.map.to_boat(flat), axis=1)
    level = np.abs(np.einsum("ij,ij->i", edges.way, other.plate.map.normals(flat))) < 0.25
    shapely.prepare(other.region)
    over = level & shapely.dwithin(other.region, shapely.points(flat), touches)
    found = []
    for side in np.unique(edges.side[over]):
        own = over & (edges.side == side)
        on, off = own & (away <= touches), own & (away > touches)
        lengths = float(edges.run[on].sum()), float(edges.run[off].sum())
        leaves = bool(off.any()) and float(away[off].max()) > FARTHEST  # it is not meant to fit
        if min(lengths) >= 2.0 * LEAST and not leaves:
            gap = float(away[off].max()) - (touches - GAP)
            found.append(Misfit(i, j, *lengths, gap))
    return found


def _apart(one: _Body, other: _Body) -> bool:
    reach = one.gauge + other.gauge + GAP
    return bool((one.low > other.high + reach).any() or (other.low > one.high + reach).any())


def _touching(one: _Body, other: _Body) -> tuple[FloatArray, FloatArray]:
    """Which samples of one's edges lie along an edge of the other, and which on its face."""
    edges, half = one.edges, (one.gauge + other.gauge) / 2.0
    flat = other.plate.map.to_flat(edges.at)
    away = np.linalg.norm(edges.at - other.plate.map.to_boat(flat), axis=1)
    near = away <= half + GAP
    both, face = np.zeros((2, len(near)), bool)
    rows = np.nonzero(near)[0]
    if not len(rows):
        return both, face
    points = shapely.points(flat[rows])
    shapely.prepare(other.region)
    to_rim = shapely.distance(other.rim, points)
    inside = shapely.contains(other.region, points)
    along = _along_rim(other.edges, edges.at[rows], edges.way[rows], half + GAP)
    on_rim = (to_rim <= half + GAP) & along
    both[rows] = on_rim
    normal = other.plate.map.normals(flat[rows])
    flat_lying = np.abs(np.einsum("ij,ij->i", edges.out[rows], normal)) > np.cos(ALIKE)
    reach = np.where(flat_lying, half, other.gauge / 2.0) + GAP
    level = np.abs(np.einsum("ij,ij->i", edges.way[rows], normal)) < 0.25
    face[rows] = (inside | (to_rim <= GAP)) & ~on_rim & level & (away[rows] <= reach)
    return both, face


def _along_rim(rim: Edges, at: FloatArray, ways: FloatArray, reach: float) -> FloatArray:
    """True where an edge of the other plate close by runs as the edge at hand does."""
    count = min(_NEIGHBOURS, len(rim.at))
    _, nearest = cKDTree(rim.at).query(at, k=count)
    rows = nearest.reshape(len(at), count)
    apart = rim.at[rows] - at[:, None]
    on = np.einsum("ijk,ijk->ij", apart, rim.way[rows])
    aside = np.linalg.norm(apart - on[..., None] * rim.way[rows], axis=2)
    alike = np.abs(np.einsum("ij,ikj->ik", ways, rim.way[rows])) > ALONG
    beside = (np.abs(on) <= rim.run[rows] / 2.0 + _HAIR) & (aside <= reach)
    return np.asarray((alike & beside).any(axis=1))


def _seams(
    i: int, j: int, bodies: list[_Body], hit: FloatArray, kinds: tuple[Kind, Kind]
) -> list[Seam]:
    """The seam of the samples that touch, lying alike or at an angle."""
    edges, other = bodies[i].edges, bodies[j].plate
    if float(edges.run[hit].sum()) < LEAST:
        return []
    at = edges.at[hit]
    flat = other.map.to_flat(at)
    normal = other.map.normals(flat)
    cosine = np.abs(np.einsum("ij,ij->i", edges.out[hit], normal))
    angle = np.arccos(np.clip(cosine, 0.0, 1.0))
    centre = edges.at.mean(axis=0) - at.mean(axis=0)
    found = []
    for kind, alike in zip(kinds, (angle < ALIKE, angle >= ALIKE), strict=True):
        length = float(edges.run[hit][alike].sum())
        if length >= LEAST:
            above = bool((normal[alike] @ centre).mean() > 0.0)
            turn = float(np.median(angle[alike]))
            found.append(
                Seam(i, j, kind, length, turn, at[alike], edges.run[hit][alike], above)
            )
    return found


def _without_rings(seams: list[Seam]) -> list[Seam]:
    """Less what would join plates along a line that are joined there already."""
    kept: list[Seam] = []
    trees: dict[tuple[int, int], cKDTree] = {}
    for seam in sorted(seams, key=lambda s: (s.kind != "butt", s.first, s.second)):
        joined = np.zeros(len(seam.at), bool)
        for third in {n for pair in trees for n in pair} - {seam.first, seam.second}:
            pairs = [(min(a, third), max(a, third)) for a in (seam.first, seam.second)]
            if all(pair in trees for pair in pairs):
                reach = [trees[pair].query(seam.at)[0] < 2.0 * STEP + GAP for pair in pairs]
                joined |= reach[0] & reach[1]
        free = ~joined
        length = float(seam.run[free].sum())
        if length < LEAST:
            continue
        left = Seam(seam.first, seam.second, seam.kind, length, seam.angle, seam.at[free],
                    seam.run[free], seam.above)  # fmt: skip
        kept.append(left)
        trees[(seam.first, seam.second)] = cKDTree(left.at)
    return kept
