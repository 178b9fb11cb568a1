"""Steel that lies in other steel: plates of a refit that share more than a joint explains.

Plates are drawn to their mid-surfaces, so where one stands on another it reaches half-way
through it. That much, along the whole of what they share, is a joint; more of it is a plate
that is in the way of another, cut and weighed twice. Asked of the meshes, of one part or of two
that come near, and kept by what the parts are built from.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from hullchange.boat.built import BuiltPart
from hullchange.cache import cached
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.plate import Plate
from hullchange.geometry.surface import Surface, common_volumes

OF_A_JOINT = 1.25
"""Of one's thickness times half the other's: so much section a joint may share."""

PAIRS_HELD = 8192
"""Pairs of parts near each other that are held: eight for each of a thousand plates."""
FLATTEST = 0.3  # sine of the angle between plates below which a joint is no flatter
SAME_PLACE = 1e-6  # [m]


@dataclass(frozen=True)
class Clash:
    """Two plates that share steel beyond any joint: ids in their parts, volume [m^3]."""

    first: str
    second: str
    volume: float


def clashes(parts: Mapping[str, BuiltPart]) -> tuple[Finding, ...]:
    """Every two pieces of steel of some parts that lie in one another; of twins one pair."""
    return tuple(
        _finding(one, other, clash)
        for one, other in _pairs(tuple(parts.values()))
        for clash in _between(one, other)
    )


def _pairs(parts: tuple[BuiltPart, ...]) -> Iterator[tuple[BuiltPart, BuiltPart]]:
    """Every part with itself and with each later one that comes near."""
    bounds = np.array([part.bounds for part in parts]).reshape(-1, 2, 3)
    for one, other in _overlapping(bounds, 0):
        if one != other or len(parts[one].part.plates) > 1:
            yield parts[one], parts[other]


def _finding(one: BuiltPart, other: BuiltPart, clash: Clash) -> Finding:
    names = [
        f"{part.id} {id.replace('-', ' ')}"
        for part, id in ((one, clash.first), (other, clash.second))
    ]
    sentence = (
        f"{names[0]} and {names[1]} share {1e6 * clash.volume:.1f} cm³ of steel, more than a "
        "joint: they are in each other's way. Move one, or cut it clear."
    )
    return Finding("pieces-collide", Severity.WARN, other.path, sentence)


@cached(PAIRS_HELD)
def _between(one: BuiltPart, other: BuiltPart) -> tuple[Clash, ...]:
    return tuple(_found(one, other))


def _found(one: BuiltPart, other: BuiltPart) -> Iterator[Clash]:
    rows = [(one.id, plate) for plate in one.part.plates]
    first = len(rows)
    if other is not one:
        rows += [(other.id, plate) for plate in other.part.plates]
    plates = [plate for _, plate in rows]
    surfaces = [plate.surface() for plate in plates]
    pairs = [(i, j) for i, j in _near(surfaces) if other is one or (i < first <= j)]
    mirrored = _mirrored(rows, surfaces)
    kept = [pair for pair in pairs if _is_first(pair, mirrored)]
    for (i, j), pieces in common_volumes(surfaces, kept):
        volume = sum(p.volume for p in pieces if _is_no_joint(p, plates[i], plates[j]))
        if volume > 0.0:
            yield Clash(plates[i].id, plates[j].id, volume)


def _near(surfaces: Sequence[Surface]) -> Iterator[tuple[int, int]]:
    """Pairs whose boxes overlap, the smaller number first."""
    yield from _overlapping(np.array([s.bounds for s in surfaces]), 1)


def _overlapping(bounds: FloatArray, least: int) -> Iterator[tuple[int, int]]:
    """Pairs of boxes (n, 2, 3) that overlap, the second ``least`` or more after the first."""
    low, high = bounds[:, 0], bounds[:, 1]
    over = ((low[:, None] < high[None]) & (high[:, None] > low[None])).all(axis=-1)
    yield from zip(*(k.tolist() for k in np.nonzero(np.triu(over, least))), strict=True)


def _mirrored(
    rows: Sequence[tuple[str, Plate]], surfaces: Sequence[Surface]
) -> list[int | None]:
    """Number of each plate's mirror image: its twin's, or its own on the centreline."""
    number = {(part, plate.id): k for k, (part, plate) in enumerate(rows)}
    found: list[int | None] = [
        k if abs(s.bounds[:, 1].sum()) < SAME_PLACE else None for k, s in enumerate(surfaces)
    ]
    for k, (part, plate) in enumerate(rows):
        if plate.twin_of:
            partner = number[part, plate.twin_of]
            found[k], found[partner] = partner, k
    return found


def _is_first(pair: tuple[int, int], mirrored: Sequence[int | None]) -> bool:
    """Whether a pair comes before its mirror image, if it has one."""
    images = [mirrored[k] for k in pair]
    known = [k for k in images if k is not None]
    return len(known) < len(pair) or list(pair) <= sorted(known)


def _is_no_joint(piece: Surface, one: Plate, other: Plate) -> bool:
    """Whether what two plates share is more than one standing on the other explains."""
    thick = one.gauge, other.gauge
    length = float(np.linalg.norm(piece.bounds[1] - piece.bounds[0]))
    square = OF_A_JOINT * thick[0] * thick[1] / 2.0 * length
    more = piece.volume - thick[0] * thick[1] * max(thick)
    if more <= square:
        return False
    middle = piece.vertices.mean(axis=0)[None]
    sine = np.linalg.norm(np.cross(_normal(one, middle), _normal(other, middle)))
    return more > square / max(float(sine), FLATTEST)


def _normal(plate: Plate, at: FloatArray) -> FloatArray:
    """(3,) of a plate near a point (1, 3); of a tube's wall."""
    if plate.kind == "tube":
        radial = (at - plate.map.to_boat(np.zeros((1, 2))))[0]
        axis = plate.map.normals(np.zeros((1, 2)))[0]
        across = radial - (radial @ axis) * axis
        return np.asarray(across / max(float(np.linalg.norm(across)), 1e-9))
    return np.asarray(plate.map.normals(plate.map.to_flat(at))[0])
