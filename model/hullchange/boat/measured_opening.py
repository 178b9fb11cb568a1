"""A new part fitted to the opening as it was read after cutting out.

Four corner marks, six distances: four sides and both diagonals. The heights of the marks are
the modelled deck's. Sides and one diagonal give the other, so that a slip of the tape shows.
The part's own length and breadths are then fitted to all six by least squares; its forward end
and its symmetry stay, so what is left over is skew, and is said. Readings that contradict each
other by more than a slip of some millimetres are fitted to nothing: the one is looked for that,
corrected by the other five, makes the opening most like the one drawn.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import copysign, dist, hypot, sqrt

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host
from hullchange.parts.house_shape import house_shape
from hullchange.parts.parameters import Cockpit, Deckhouse
from hullchange.units import m_of_mm

PartWithOpening = Deckhouse | Cockpit

SPANS: dict[str, tuple[int, int]] = {
    "side_starboard_m": (0, 1),
    "side_port_m": (3, 2),
    "across_forward_m": (0, 3),
    "across_aft_m": (1, 2),
    "diagonal_forward_starboard_m": (0, 2),
    "diagonal_forward_port_m": (3, 1),
}
"""Corners of each distance: forward and aft starboard, aft and forward port."""

TRUSTED = 0.02
"""[m] of slip up to which a part is fitted to the readings (common practice, no source)."""

GREEN = 0.05
"""[m] that steel left on an edge can take up at most (common practice, no source)."""

_STEP = 1e-4  # [m] of a dimension, for the slope
_ROUNDS = 4
_PLAIN = 0.5  # of the next reading's: so near the drawing a correction must come
_TO = 4  # digits of a fitted dimension [m]


@dataclass(frozen=True)
class OpeningReading:
    """One reading of an opening.

    Attributes:
        key: of the reading in the document.
        read: [m].
        drawn: by the part's dimensions as they are [m].
        fitted: by those that fit best [m]; None where nothing is fitted.
    """

    key: str
    read: float
    drawn: float
    fitted: float | None


@dataclass(frozen=True)
class Suspect:
    """The reading that others contradict.

    Attributes:
        key: of the reading in the document.
        read: [m].
        others: what the other five make of it [m].
    """

    key: str
    read: float
    others: float


@dataclass(frozen=True)
class OpeningFit:
    """How a part meets its opening.

    Attributes:
        readings: distances, then what was read under and over strings.
        slip: the last diagonal as read, less what the other five give [m]; None where no four
            corners lie so.
        suspect: the reading to take again; None where slip is trusted, or no one stands out.
        values: the fitted dimensions of the part by key, each key with its unit; empty where
            the readings contradict each other or no part comes near them.
    """

    readings: tuple[OpeningReading, ...]
    slip: float | None
    suspect: Suspect | None
    values: dict[str, float | tuple[float, ...]]

    @property
    def is_trusted(self) -> bool:
        """Whether the six distances agree well enough to fit a part to them."""
        return self.slip is not None and abs(self.slip) <= TRUSTED

    def worst(self, of: Callable[[OpeningReading], float | None]) -> tuple[float, str]:
        """Largest miss of a distance [m] by what is made of it, and its key."""
        made = ((row, of(row)) for row in self.spans)
        return max((abs(row.read - by), row.key) for row, by in made if by is not None)

    @property
    def spans(self) -> tuple[OpeningReading, ...]:
        """The six distances."""
        return self.readings[: len(SPANS)]

    @property
    def heights(self) -> tuple[OpeningReading, ...]:
        """Sheer and camber, as far as they were read."""
        return self.readings[len(SPANS) :]


def opening_fit(given: PartWithOpening, host: Host) -> OpeningFit | None:
    """How a part meets its opening; None where none was read.

    Raises:
        ModelError: as the part where the dimensions that fit cannot be built.
    """
    read = given.opening
    if read is None:
        return None
    wanted = np.array([getattr(read, key) for key in SPANS])
    drawn = corners_of(given, host)
    as_drawn = _all_of(drawn, host)
    given_by_key = {
        key: m_of_mm(value) if key.endswith("_mm") else value
        for key, value in read.model_dump(exclude_none=True).items()
    }
    readings = tuple(
        OpeningReading(key, value, as_drawn[key], None) for key, value in given_by_key.items()
    )
    fit = OpeningFit(readings, _slip(wanted, drawn), None, {})
    if not fit.is_trusted:
        return replace(fit, suspect=_suspect(wanted, drawn))
    fitted = _fitted(given, wanted, host)
    then = _all_of(corners_of(fitted, host), host)
    fit = replace(fit, readings=tuple(replace(row, fitted=then[row.key]) for row in readings))
    left, _ = fit.worst(lambda row: row.fitted)
    values = {key: getattr(fitted, key) for key in _keys(given)} if left <= GREEN else {}
    return replace(fit, values=values)


def opening_drawn(given: PartWithOpening, host: Host) -> dict[str, float]:
    """What would be read of the opening that a part is drawn for, by the reading's key [m]."""
    return _all_of(corners_of(given, host), host)


def corners_of(given: PartWithOpening, host: Host) -> FloatArray:
    """(4, 3) corners on the deck: forward and aft starboard, aft and forward port [m]."""
    if isinstance(given, Deckhouse):
        starboard = house_shape(given, host).side_foot[[0, -1]]
    else:
        length, width, _ = given.seat_well_m
        x = given.x_forward_m + np.array([0.0, length])
        half = np.full(2, width / 2.0)
        starboard = np.stack([x, half, host.deck_z(x, half)], axis=1)
    return np.concatenate([starboard, starboard[::-1] * [1.0, -1.0, 1.0]])


def _all_of(corners: FloatArray, host: Host) -> dict[str, float]:
    """What would be read between and beside corners, by the reading's key [m]."""
    return {**dict(zip(SPANS, _spans(corners), strict=True)), **_heights(corners, host)}


def _spans(corners: FloatArray) -> list[float]:
    pairs = np.array(list(SPANS.values()))
    away = corners[pairs[:, 0]] - corners[pairs[:, 1]]
    return [float(length) for length in np.linalg.norm(away, axis=1)]


def _heights(corners: FloatArray, host: Host) -> dict[str, float]:
    """Sag of the deck along the sides and rise across the ends, by their key [m]."""

    def above(one: int, other: int) -> float:
        middle = (corners[one] + corners[other]) / 2.0
        at = (np.array([middle[0]]), np.array([middle[1]]))
        return float(host.deck_z(*at)[0] - middle[2])

    return {
        "sheer_mm": -above(0, 1),
        "camber_forward_mm": above(0, 3),
        "camber_aft_mm": above(1, 2),
    }


def _slip(read: FloatArray, drawn: FloatArray) -> float | None:
    """The last diagonal less what the other five give, heights as drawn [m]."""
    last = list(SPANS)[-1]
    others = _by_others(read, drawn, last)
    return None if others is None else float(read[-1]) - others


def _suspect(read: FloatArray, drawn: FloatArray) -> Suspect | None:
    """The reading that, corrected by the others, leaves an opening most like the one drawn."""
    tried: list[tuple[float, Suspect]] = []
    for place, key in enumerate(SPANS):
        others = _by_others(read, drawn, key)
        if others is not None:
            off = read - _spans(drawn)
            off[place] += others - read[place]
            tried.append((float(np.linalg.norm(off)), Suspect(key, float(read[place]), others)))
    ranked = sorted(tried, key=lambda row: row[0])
    is_plain = len(ranked) == 1 or (ranked and ranked[0][0] < _PLAIN * ranked[1][0])
    return ranked[0][1] if is_plain else None


def _by_others(read: FloatArray, drawn: FloatArray, key: str) -> float | None:
    """What five distances make of the sixth [m]: two triangles over the pair that it leaves.

    Heights and the sides on which corners lie are as drawn; None where a triangle does not
    close.
    """
    level = {
        frozenset(pair): sqrt(
            max(length**2 - (drawn[pair[0], 2] - drawn[pair[1], 2]) ** 2, 0.0)
        )
        for pair, length in zip(SPANS.values(), read.tolist(), strict=True)
    }
    ends = SPANS[key]
    here, there = sorted(set(range(4)) - set(ends))
    base = level[frozenset((here, there))]
    along, across = drawn[there, :2] - drawn[here, :2]
    found = []
    for end in ends:
        near, far = level[frozenset((here, end))], level[frozenset((there, end))]
        at = (near**2 + base**2 - far**2) / (2.0 * base)
        if abs(at) > near:
            return None
        ahead, beside = drawn[end, :2] - drawn[here, :2]
        found.append((at, copysign(sqrt(near**2 - at**2), along * beside - across * ahead)))
    rise = float(drawn[ends[0], 2] - drawn[ends[1], 2])
    return hypot(dist(*found), rise)


def _keys(given: PartWithOpening) -> tuple[str, ...]:
    if isinstance(given, Deckhouse):
        return "x_aft_m", "roof_half_breadth_forward_m", "roof_half_breadth_aft_m"
    return ("seat_well_m",)


def _fitted(given: PartWithOpening, read: FloatArray, host: Host) -> PartWithOpening:
    """The part whose corners lie best by the readings."""
    values, placed = _free(given)

    def missing(at: FloatArray) -> FloatArray:
        return np.array(_spans(corners_of(placed(at), host))) - read

    for _ in range(_ROUNDS):
        gap = missing(values)
        steps = _STEP * np.eye(len(values))
        slopes = np.stack([(missing(values + step) - gap) / _STEP for step in steps], axis=1)
        values = values - np.linalg.lstsq(slopes, gap, rcond=None)[0]
    return placed(np.round(values, _TO))


def _free(given: PartWithOpening) -> tuple[FloatArray, Callable[[FloatArray], PartWithOpening]]:
    """The dimensions that may follow the opening, and the part with others."""
    if isinstance(given, Deckhouse):
        keys = _keys(given)

        def house(at: FloatArray) -> PartWithOpening:
            return given.model_copy(update=dict(zip(keys, at.tolist(), strict=True)))

        return np.array([getattr(given, key) for key in keys]), house

    depth = given.seat_well_m[2]

    def well(at: FloatArray) -> PartWithOpening:
        return given.model_copy(update={"seat_well_m": (*at.tolist(), depth)})

    return np.array(given.seat_well_m[:2]), well
