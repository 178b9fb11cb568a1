"""Headroom in a house: from the cabin sole to the underside of its roof, lining included.

What takes headroom is the roof's plate, its beams and the lining under them; before the roof
begins the raked front, and off the middle a side that leans inboard, each with its own plate,
stiffeners and lining. A house that stands on another and opens into it is counted with it.
"""

from dataclasses import dataclass
from math import ceil, cos, radians, tan

import numpy as np

from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host
from hullchange.geometry.roof_host import roof_z
from hullchange.parts.house_shape import HouseShape
from hullchange.parts.parameters import Deckhouse, Flats
from hullchange.units import m_of_mm

OFF_CENTRE = 0.3
"""[m] off the centreline at which headroom is also worked out: an own choice."""
SPACING = 0.1
"""[m] of the stations along a house, at most."""
SOLE_WIDTH = 0.6
"""[m] width the hull must have at a sole that is assumed: common practice, no source."""
FLOORS = 0.1
"""[m] that floors and sole boards take over the plating: common practice, no source."""

FINEST = 1e-6  # [m] to which stations are rounded


@dataclass(frozen=True, eq=False)
class House:
    """A house as it stands over the cabin.

    Attributes:
        id: its name.
        shape: planes and roof.
        given: its dimensions.
        upper: houses that stand on it and open into it, each with its opening in this roof,
            (n, 2) plan [m] to starboard from forward aft.
    """

    id: str
    shape: HouseShape
    given: Deckhouse
    upper: tuple[tuple["House", FloatArray], ...] = ()


@dataclass(frozen=True, eq=False)
class Headroom:
    """Headroom along a house.

    Attributes:
        x: (n,) stations [m], from forward aft.
        sole: (n,) height of the sole there [m].
        middle: (n,) clear height on the centreline [m].
        off_centre: (n,) the same [m] ``OFF_CENTRE`` from it; nan where the house is narrower.
        roofed: (n,) [-] 1 where the roof is what she stands under, 0 where the front is.
    """

    x: FloatArray
    sole: FloatArray
    middle: FloatArray
    off_centre: FloatArray
    roofed: FloatArray

    def least(self, height: FloatArray) -> tuple[float, float] | None:
        """The least of one of the heights (n,) [m] under the roof, and where x [m]."""
        counted = np.where((self.roofed > 0.0) & np.isfinite(height), height, np.inf)
        at = int(np.argmin(counted))
        return (float(height[at]), float(self.x[at])) if np.isfinite(counted[at]) else None


def headroom(house: House, sole: FloatArray, lining: float) -> Headroom:
    """Headroom along a house.

    Args:
        house: with what stands on it.
        sole: (n, 2) x and height [m] of the sole, from forward aft; level beyond its ends.
        lining: [m] under the beams and on the walls.
    """
    roof_from = _roof_begins(house, lining)
    x = _stations(house, sole[:, 0], roof_from, lining)
    floor = np.interp(x, *sole.T)
    middle, off_centre = (
        underside(house, x, np.full(len(x), y), lining) - floor for y in (0.0, OFF_CENTRE)
    )
    return Headroom(x, floor, middle, off_centre, (x >= roof_from - FINEST).astype(float))


def underside(house: House, x: FloatArray, y: FloatArray, lining: float) -> FloatArray:
    """Height (n,) [m] of what is overhead at (x, y) in a house; nan beside or beyond it."""
    z = _own_underside(house, x, y, lining)
    for upper, hole in house.upper:
        within = np.abs(y) <= np.interp(x, hole[:, 0], hole[:, 1], left=-1.0, right=-1.0)
        above = underside(upper, x, y, lining)
        z = np.where(within & np.isfinite(above), above, z)
    return z


def _own_underside(house: House, x: FloatArray, y: FloatArray, lining: float) -> FloatArray:
    shape, given, out = house.shape, house.given, np.abs(y)
    roof = np.asarray(roof_z(roof_underside(house, lining), x, y))
    side = _side_z(house, x, out, lining)
    forward, after = _ends(house, lining)
    inside = (x >= forward - FINEST) & (x <= after + FINEST)
    low = np.interp(x, shape.side_foot[:, 0], shape.side_foot[:, 2])
    overhead = np.minimum(np.minimum(roof, side), _front_z(house, x, lining))
    tumbles_home = given.tumblehome_deg > 0.0
    inside &= (side > low) if tumbles_home else out <= _half_breadth(house, x)
    return np.where(inside, overhead, np.nan)


def roof_underside(house: House, lining: float) -> Cone:
    """The lowest that hangs under the roof: plate, beams and lining [m] deducted."""
    taken = m_of_mm(house.given.roof_plate_mm) / 2.0 + _depth(house.given.roof_beams)
    return house.shape.roof.offset(-(taken + lining))


def _side_z(house: House, x: FloatArray, out: FloatArray, lining: float) -> FloatArray:
    """Where a side that leans inboard is overhead (n,) [m]; infinite where it does not."""
    given, side = house.given, house.shape.side
    if given.tumblehome_deg <= 0.0:
        return np.full(len(x), np.inf)
    taken = m_of_mm(given.side_plate_mm) / 2.0 + _depth(given.side_stiffeners) + lining
    normal = side.normal * np.sign(side.normal[1])
    away = -taken - normal[0] * (x - side.origin[0]) - normal[1] * (out - side.origin[1])
    return np.asarray(side.origin[2] + away / normal[2])


def _half_breadth(house: House, x: FloatArray) -> FloatArray:
    """Half-breadth (n,) [m] of an upright or flared side, at its foot."""
    taken = m_of_mm(house.given.side_plate_mm)
    return np.interp(x, *house.shape.side_foot[:, :2].T) - taken


def _front_z(house: House, x: FloatArray, lining: float) -> FloatArray:
    """Where a front that leans aft is overhead (n,) [m]; infinite where it does not."""
    rake = radians(house.given.front_rake_deg)
    if rake <= 0.0:
        return np.full(len(x), np.inf)
    taken = (m_of_mm(house.given.end_plate_mm) / 2.0 + lining) / cos(rake)
    origin = house.shape.front.origin
    return np.asarray(origin[2] + (x - origin[0] - taken) / tan(rake))


def _ends(house: House, lining: float) -> tuple[float, float]:
    """Inside of the front at its foot, and of the after end [m]."""
    given = house.given
    taken = m_of_mm(given.end_plate_mm) / 2.0 + lining
    rake = radians(given.front_rake_deg)
    return given.x_forward_m + taken / cos(rake), given.x_aft_m - taken


def _roof_begins(house: House, lining: float) -> float:
    """Where the roof, and no longer the front, is overhead on the centreline [m]."""
    forward, after = _ends(house, lining)
    if house.given.front_rake_deg <= 0.0:
        return forward
    roof = roof_underside(house, lining)
    low, high = forward, after
    for _ in range(50):  # bisected to less than a thousandth of a millimetre
        x = np.array([(low + high) / 2.0])
        below = _front_z(house, x, lining)[0] < roof_z(roof, x, np.zeros(1))[0]
        low, high = (float(x[0]), high) if below else (low, float(x[0]))
    return high


def _stations(house: House, breaks: FloatArray, roof_from: float, lining: float) -> FloatArray:
    """Stations [m]: evenly, where the roof begins, where the sole bends, at openings."""
    forward, after = _ends(house, lining)
    even = np.linspace(forward, after, max(2, ceil((after - forward) / SPACING) + 1))
    beside = 2.0 * FINEST
    openings = [
        x for _, hole in house.upper for x in (hole[0, 0] - beside, hole[-1, 0] + beside)
    ]
    more = np.array([roof_from, *breaks.tolist(), *openings])
    more = more[(more >= forward) & (more <= after)]
    return np.unique(np.round(np.concatenate([even, more]) / FINEST) * FINEST)


def below(headroom_m: FloatArray, x: FloatArray, height: float) -> list[tuple[float, float]]:
    """Where along a house headroom (n,) [m] is less than a height [m], from and to x [m]."""
    spans: list[tuple[float, float]] = []
    for k in range(len(x) - 1):
        a, b = float(headroom_m[k] - height), float(headroom_m[k + 1] - height)
        if not (np.isfinite(a) and np.isfinite(b)) or (a >= 0.0 and b >= 0.0):
            continue
        start, end = float(x[k]), float(x[k + 1])
        crossing = start + (end - start) * a / (a - b) if a * b < 0.0 else start
        span = (crossing if a >= 0.0 else start, crossing if b > 0.0 and a < 0.0 else end)
        if spans and abs(spans[-1][1] - span[0]) < 1e-6:
            spans[-1] = (spans[-1][0], span[1])
        else:
            spans.append(span)
    return spans


def proposed_sole(host: Host, forward: float, after: float) -> float:
    """Height [m] of a level sole that the hull has room for, between two stations [m].

    The lowest at which she is ``SOLE_WIDTH`` wide all along, over her floors.
    """
    x = np.linspace(forward, after, 25)
    bottom = host.bottom_z(x, np.full(len(x), SOLE_WIDTH / 2.0))
    return float(bottom.max()) + FLOORS


def _depth(flats: Flats | None) -> float:
    return 0.0 if flats is None else m_of_mm(flats.flat_mm[0])
