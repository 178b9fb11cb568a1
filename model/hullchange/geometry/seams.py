"""Seams: where plates touch, and edges that stand off what they are meant to meet.

Every edge is followed at stations and its distance from every plate near by is measured, steel
to steel. Plates are drawn to their mid-surfaces, so one may reach to another's middle or to its
face. Two that have a third between them do not touch.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import radians
from typing import Literal

import numpy as np
from scipy.spatial import cKDTree

from hullchange.geometry.contact import NEAR, Meeting, meeting
from hullchange.geometry.edges import STEP, EdgeStations, edge_stations
from hullchange.geometry.frame import BoolArray, FloatArray, IntArray
from hullchange.geometry.plate import Plate

MOST_GAP = 5e-3
"""[m] no gap wider than that is welded without a filler, however thick the plates are (a
classification society's rules for hull construction, seen quoted)."""

ALIKE = radians(20.0)  # below it two plates lie in one plane
LEAST = 10e-3  # [m] shortest seam that counts
LEAST_OFF = 20e-3, 100e-3  # [m] shortest gap that counts: of an edge that touches too, or not
FARTHEST = 30e-3  # [m] an edge that touches and then comes farther off is not meant to fit
LEVEL = 0.2  # sine of the angle at which an edge runs into a plate rather than along it
LYING = 5e-3  # [m] a plate so near another's face is meant to lie on it

JointKind = Literal["butt", "corner", "tee", "lap"]
_HAIR = 3e-4  # [m] wider gaps may hold a third plate
_KINDS: tuple[JointKind, ...] = ("butt", "corner", "tee", "lap")


@dataclass(frozen=True, eq=False)
class Seam:
    """Two plates that touch.

    Attributes:
        first: number of the plate whose edge it is.
        second: number of the plate it lies on.
        kind: butt and corner are edge to edge, tee and lap an edge on a face.
        length: [m].
        angle: between the plates [rad], 0 in one plane.
        at: (n, 3) middles of its stations [m], in order along the edges.
        run: (n,) length of each [m].
        above: True where it lies on the side its second plate's normal points to.
    """

    first: int
    second: int
    kind: JointKind
    length: float
    angle: float
    at: FloatArray
    run: FloatArray
    above: bool


@dataclass(frozen=True)
class Misfit:
    """An edge that stands off a plate it looks at and should lie on.

    Attributes:
        first: number of the plate whose edge it is.
        second: number of the plate it should lie on.
        touching: length of it that touches that plate [m].
        off: length that stands off [m].
        gap: narrowest and widest of that [m].
    """

    first: int
    second: int
    touching: float
    off: float
    gap: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Contacts:
    """How plates meet.

    Attributes:
        seams: each length once; where three plates meet along one line two seams join them.
        misfits: edges that stand off.
    """

    seams: tuple[Seam, ...]
    misfits: tuple[Misfit, ...]


def allowed_gap(one: Plate, other: Plate) -> float:
    """Gap [m] two plates may have and still be joined: half the thinner, to a limit."""
    return min(min(one.gauge, other.gauge) / 2.0, MOST_GAP)


def contacts_of(plates: Sequence[Plate]) -> Contacts:
    """Every seam between plates, and every edge that stands off."""
    bodies = [edge_stations(plate) for plate in plates]
    found = [
        _read(bodies, plates, pair, met)
        for pair in _pairs(bodies)
        if (met := meeting(bodies[pair[0]], bodies[pair[1]])) is not None
    ]
    for one in found:
        _see_through(bodies, one, [r for r in found if r.pair[0] == one.pair[0]])
    joined = [np.zeros(len(body.at), bool) for body in bodies]
    for one in found:
        joined[one.pair[0]][one.met.rows[one.touches]] = True
    seams = [seam for one in found for seam in _seams(bodies, one)]
    seams += _on_edges(bodies, plates, {(s.first, s.second) for s in seams})
    misfits = [misfit for one in found for misfit in _misfits(bodies, one, joined)]
    return Contacts(tuple(_each_once(seams)), tuple(_without_returns(misfits)))


def _pairs(bodies: Sequence[EdgeStations]) -> Iterator[tuple[int, int]]:
    """Ordered pairs whose boxes come near."""
    low = np.array([b.low for b in bodies]) - NEAR / 2.0
    high = np.array([b.high for b in bodies]) + NEAR / 2.0
    near = ((low[:, None] <= high[None]) & (high[:, None] >= low[None])).all(axis=-1)
    for i, j in zip(*(k.tolist() for k in np.nonzero(near)), strict=True):
        if i != j:
            yield i, j


@dataclass(frozen=True, eq=False)
class _Read:
    """One plate's edges near another, station by station.

    ``kind`` numbers ``_KINDS``; ``touches`` and ``looks`` say whether steel meets steel, and
    whether an edge that does not looks at the other plate and runs along it.
    """

    pair: tuple[int, int]
    met: Meeting
    kind: IntArray
    angle: FloatArray
    touches: BoolArray
    looks: BoolArray


def _read(
    bodies: Sequence[EdgeStations], plates: Sequence[Plate], pair: tuple[int, int], met: Meeting
) -> _Read:
    one, other = (bodies[k] for k in pair)
    allowed = allowed_gap(*(plates[k] for k in pair))
    cosine = np.abs((one.normal[met.rows] * met.normal).sum(axis=1))
    away = met.foot - one.at[met.rows]
    alike = cosine > np.cos(ALIKE)
    halves = one.half + other.half
    over = np.abs((away * met.normal).sum(axis=1)) > halves / 2.0
    at_rim = met.to_rim <= halves + allowed + np.maximum(met.gap, 0.0)
    kind = np.where(alike, np.where(over, 3, 0), np.where(at_rim, 1, 2))
    level = met.steep < LEVEL
    towards = (away * one.out[met.rows]).sum(axis=1) > 0.5 * np.linalg.norm(away, axis=1)
    lies = alike & over & (met.gap < LYING)
    touches = level & (met.gap <= allowed)
    looks = level & ~touches & (towards | lies | (alike & ~over & met.ahead))
    angle = np.arccos(np.clip(cosine, 0.0, 1.0))
    return _Read(pair, met, kind, angle, touches, looks)


def _see_through(bodies: Sequence[EdgeStations], read: _Read, all_own: Sequence[_Read]) -> None:
    """Takes out stations between which and the other plate a third one lies."""
    body, met = bodies[read.pair[0]], read.met
    wide = (read.touches | read.looks) & (met.gap > _HAIR)
    if not wide.any():
        return
    away = met.foot - body.at[met.rows]
    length = np.linalg.norm(away, axis=1)
    share = (length - bodies[read.pair[1]].half - met.gap / 2.0) / np.maximum(length, _HAIR)
    middle = body.at[met.rows] + np.maximum(share, 0.0)[:, None] * away
    for other in all_own:
        near = wide & np.isin(met.rows, other.met.rows[other.touches])
        if other is read or not near.any():
            continue
        third = bodies[other.pair[1]]
        on = third.plate.map.to_boat(third.plate.map.to_flat(middle[near]))
        between = np.linalg.norm(middle[near] - on, axis=1) <= third.half + _HAIR
        hidden = np.nonzero(near)[0][between]
        read.touches[hidden] = False
        read.looks[hidden] = False


def _seams(bodies: Sequence[EdgeStations], read: _Read) -> Iterator[Seam]:
    """The seams of the stations that touch, one of each kind."""
    body, met = bodies[read.pair[0]], read.met
    for number, kind in enumerate(_KINDS):
        hit = read.touches & (read.kind == number)
        rows = met.rows[hit]
        length = float(body.run[rows].sum())
        if length < LEAST:
            continue
        at = body.at[rows]
        above = bool((met.normal[hit] @ (body.at.mean(axis=0) - at.mean(axis=0))).mean() > 0.0)
        turn = float(np.median(read.angle[hit]))
        yield Seam(*read.pair, kind, length, turn, at, body.run[rows], above)


def _on_edges(
    bodies: Sequence[EdgeStations], plates: Sequence[Plate], known: set[tuple[int, int]]
) -> Iterator[Seam]:
    """Tubes whose ends stand across the edge of a plate, where no edge runs along another."""
    for i, j in _pairs(bodies):
        if plates[i].kind != "tube" or {(i, j), (j, i)} & known or not bodies[j].is_flat:
            continue
        tube, other = bodies[i], bodies[j]
        flat = other.plate.map.to_flat(tube.at)
        normal = other.plate.map.normals(flat)
        beside = np.abs(((tube.at - other.plate.map.to_boat(flat)) * normal).sum(axis=1))
        near = beside <= other.half
        near[near] = _to_rings(flat[near], other.rings) <= allowed_gap(plates[i], plates[j])
        length = float(tube.run[near].sum())
        if length >= LEAST:
            at = tube.at[near]
            yield Seam(i, j, "tee", length, np.pi / 2.0, at, tube.run[near], True)


def _to_rings(points: FloatArray, rings: FloatArray) -> FloatArray:
    """(n,) distance [m] of flat points (n, 2) from an outline's straight pieces (m, 2, 2)."""
    start, side = rings[:, 0], rings[:, 1] - rings[:, 0]
    away = points[:, None] - start
    share = np.clip((away * side).sum(axis=2) / (side * side).sum(axis=1), 0.0, 1.0)
    return np.asarray(np.linalg.norm(away - share[..., None] * side, axis=2).min(axis=1))


def _each_once(seams: list[Seam]) -> list[Seam]:
    """Seams of edge to edge by the longer of both sides, and without rings."""
    total = {(s.first, s.second, s.kind): s.length for s in seams}
    edge_to_edge, on_faces = [], []
    for seam in seams:
        back = total.get((seam.second, seam.first, seam.kind), 0.0)
        if seam.kind in ("tee", "lap"):
            corner = total.get((seam.second, seam.first, "corner"), 0.0)
            if seam.length >= 2.0 * LEAST or corner < seam.length:
                on_faces.append(seam)
        elif seam.length > back + LEAST or (
            seam.first < seam.second and seam.length > back - LEAST
        ):
            edge_to_edge.append(seam)
    return [*_without_rings(edge_to_edge), *on_faces]


def _without_rings(seams: list[Seam]) -> list[Seam]:
    """Less what would join plates along a line that are joined there already."""
    kept: list[Seam] = []
    trees: dict[tuple[int, int], cKDTree] = {}
    for seam in sorted(seams, key=lambda s: (s.kind != "butt", s.first, s.second)):
        joined = np.zeros(len(seam.at), bool)
        for third in {n for pair in trees for n in pair} - {seam.first, seam.second}:
            pairs = [(min(a, third), max(a, third)) for a in (seam.first, seam.second)]
            if all(pair in trees for pair in pairs):
                reach = [trees[pair].query(seam.at)[0] < 2.0 * STEP + 2e-3 for pair in pairs]
                joined |= reach[0] & reach[1]
        free = ~joined
        length = float(seam.run[free].sum())
        if length < LEAST:
            continue
        left = replace(seam, length=length, at=seam.at[free], run=seam.run[free])
        kept.append(left)
        names = min(left.first, left.second), max(left.first, left.second)
        trees[names] = cKDTree(left.at)
    return kept


def _misfits(
    bodies: Sequence[EdgeStations], read: _Read, joined: Sequence[BoolArray]
) -> Iterator[Misfit]:
    """Edges, each by itself, that look at the other plate and are joined to nothing there."""
    i, j = read.pair
    body, met = bodies[i], read.met
    side = body.side[met.rows]
    loose = read.looks & ~joined[i][met.rows]
    for number in np.unique(side[loose]):
        own = side == number
        off = own & loose
        touching = float(body.run[met.rows[own & read.touches]].sum())
        length = float(body.run[met.rows[off]].sum())
        fits_partly = touching >= LEAST_OFF[0]
        gap = float(met.gap[off].min()), float(met.gap[off].max())
        if length < LEAST_OFF[0 if fits_partly else 1]:
            continue
        if not (fits_partly and gap[1] > FARTHEST):
            yield Misfit(i, j, touching, length, gap)


def _without_returns(misfits: list[Misfit]) -> Iterator[Misfit]:
    """The side with more of a gap between two edges."""
    total: dict[tuple[int, int], float] = {}
    for one in misfits:
        pair = one.first, one.second
        total[pair] = total.get(pair, 0.0) + one.off
    for one in misfits:
        back = total.get((one.second, one.first), 0.0)
        if (total[one.first, one.second], one.second) > (back, one.first):
            yield one
