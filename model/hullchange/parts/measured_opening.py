"""A new part fitted to the opening as it was read after cutting out.

Four corner marks, six distances: four sides and both diagonals. The heights of the marks are
the modelled deck's. Sides and one diagonal give the other, so that a slip of the tape shows.
The part's own length and breadths are then fitted to all six by least squares; its forward end
and its symmetry stay, so what is left over is skew, and is said.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import acos, cos, sqrt

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host
from hullchange.parts.house_shape import house_shape
from hullchange.parts.parameters import Cockpit, Deckhouse

Opened = Deckhouse | Cockpit

SPANS: dict[str, tuple[int, int]] = {
    "side_starboard_m": (0, 1),
    "side_port_m": (3, 2),
    "across_forward_m": (0, 3),
    "across_aft_m": (1, 2),
    "diagonal_forward_starboard_m": (0, 2),
    "diagonal_forward_port_m": (3, 1),
}
"""Corners of each distance: forward and aft starboard, aft and forward port."""

_STEP = 1e-4  # [m] of a dimension, for the slope
_ROUNDS = 4
_TO = 4  # digits of a fitted dimension [m]


@dataclass(frozen=True)
class Reading:
    """One reading of an opening.

    Attributes:
        key: of the reading in the document.
        read: [m].
        drawn: by the part's dimensions as they are [m].
        fitted: by those that fit best [m].
    """

    key: str
    read: float
    drawn: float
    fitted: float


@dataclass(frozen=True)
class OpeningFit:
    """How a part meets its opening.

    Attributes:
        readings: distances, then what was read under and over strings.
        slip: the last diagonal as read, less what the other five give [m].
        values: dimensions of the part that fit best, by key, those alone that are fitted.
    """

    readings: tuple[Reading, ...]
    slip: float
    values: dict[str, float | tuple[float, ...]]

    @property
    def spans(self) -> tuple[Reading, ...]:
        """The six distances."""
        return self.readings[: len(SPANS)]

    @property
    def heights(self) -> tuple[Reading, ...]:
        """Sheer and camber, as far as they were read."""
        return self.readings[len(SPANS) :]


def opening_fit(given: Opened, host: Host) -> OpeningFit | None:
    """How a part meets its opening; None where none was read.

    Raises:
        ModelError: ``opening-without-corners`` where the readings enclose no four corners; as
            the part where the dimensions that fit cannot be built.
    """
    read = given.opening
    if read is None:
        return None
    wanted = np.array([getattr(read, key) for key in SPANS])
    drawn = corners_of(given, host)
    slip = _slip(wanted, drawn)
    fitted = _fitted(given, wanted, host)
    corners = corners_of(fitted, host)
    rows = zip(SPANS, wanted.tolist(), _spans(drawn), _spans(corners), strict=True)
    heights = (
        Reading(key, getattr(read, key) / 1e3, before, after)
        for (key, before), after in zip(
            _heights(drawn, host).items(), _heights(corners, host).values(), strict=True
        )
        if getattr(read, key) is not None
    )
    values = {key: getattr(fitted, key) for key in _keys(given)}
    return OpeningFit((*(Reading(*row) for row in rows), *heights), slip, values)


def opening_drawn(given: Opened, host: Host) -> dict[str, float]:
    """What would be read of the opening that a part is drawn for, by the reading's key [m]."""
    corners = corners_of(given, host)
    spans = zip(SPANS, _spans(corners), strict=True)
    return {**dict(spans), **_heights(corners, host)}


def corners_of(given: Opened, host: Host) -> FloatArray:
    """(4, 3) corners on the deck: forward and aft starboard, aft and forward port [m]."""
    if isinstance(given, Deckhouse):
        starboard = house_shape(given, host).side_foot[[0, -1]]
    else:
        length, width, _ = given.seat_well_m
        x = given.x_forward_m + np.array([0.0, length])
        half = np.full(2, width / 2.0)
        starboard = np.stack([x, half, host.deck_z(x, half)], axis=1)
    return np.concatenate([starboard, starboard[::-1] * [1.0, -1.0, 1.0]])


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


def _slip(read: FloatArray, corners: FloatArray) -> float:
    """The last diagonal less what sides and the other diagonal give, heights as drawn [m]."""
    level = dict(zip(SPANS, read.tolist(), strict=True))
    rise = {key: float(corners[i, 2] - corners[j, 2]) for key, (i, j) in SPANS.items()}
    starboard, port, forward, aft, one, other = (
        sqrt(max(level[key] ** 2 - rise[key] ** 2, 0.0)) for key in SPANS
    )
    turn = _angle(starboard, one, aft) + _angle(forward, one, port)
    found = sqrt(starboard**2 + forward**2 - 2.0 * starboard * forward * cos(turn))
    return other - found


def _angle(side: float, diagonal: float, opposite: float) -> float:
    """Angle [rad] between a side and the diagonal from the same corner."""
    share = (side**2 + diagonal**2 - opposite**2) / (2.0 * side * diagonal)
    if not -1.0 < share < 1.0:
        sentence = (
            f"No corners lie {side:.3f}, {opposite:.3f} and {diagonal:.3f} m apart: two sides "
            "and a diagonal of the opening. Read them again."
        )
        raise ModelError("opening-without-corners", sentence, "opening")
    return acos(share)


def _keys(given: Opened) -> tuple[str, ...]:
    if isinstance(given, Deckhouse):
        return "x_aft_m", "roof_half_breadth_forward_m", "roof_half_breadth_aft_m"
    return ("seat_well_m",)


def _fitted(given: Opened, read: FloatArray, host: Host) -> Opened:
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


def _free(given: Opened) -> tuple[FloatArray, Callable[[FloatArray], Opened]]:
    """The dimensions that may follow the opening, and the part with others."""
    if isinstance(given, Deckhouse):
        keys = _keys(given)

        def house(at: FloatArray) -> Opened:
            return given.model_copy(update=dict(zip(keys, at.tolist(), strict=True)))

        return np.array([getattr(given, key) for key in keys]), house

    depth = given.seat_well_m[2]

    def well(at: FloatArray) -> Opened:
        return given.model_copy(update={"seat_well_m": (*at.tolist(), depth)})

    return np.array(given.seat_well_m[:2]), well
