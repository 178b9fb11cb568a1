"""Displacement by Simpson's rule from half-areas at stations: a sum to follow by hand."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from hullchange.afloat.at_rest import afloat
from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import conditions_of
from hullchange.boat.variants import refit
from hullchange.errors import ModelError
from hullchange.floating.hydrostatics import waterline_outline
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.geometry.surface import Surface
from hullchange.hull.hull import Hull
from hullchange.survey.as_found import surveyed

INTERVALS = 20


@dataclass(frozen=True)
class Station:
    """One line of the sum.

    Attributes:
        number: from forward, 0 at the fore end of the water.
        x: [m].
        water_z: [m] height of the water there.
        half_area: [m^2] of the starboard half of the section below it.
        multiplier: Simpson's 1, 4, 2, ... 4, 1.
    """

    number: int
    x: float
    water_z: float
    half_area: float
    multiplier: int

    @property
    def product(self) -> float:
        """[m^2] half-area times multiplier."""
        return self.half_area * self.multiplier

    @property
    def moment(self) -> float:
        """[m^2] product times the station's number."""
        return self.product * self.number


@dataclass(frozen=True)
class Immersed:
    """Mass [kg] and LCB [m] of the water a body displaces; negative mass for a well."""

    id: str
    mass: float
    lcb: float


@dataclass(frozen=True, eq=False)
class SimpsonSum:
    """The canoe body by Simpson's rule, beside the exact result.

    Attributes:
        condition: its name.
        stage: which boat.
        water_density: [kg/m^3].
        spacing: [m] of stations.
        stations: from forward.
        hull_exact: the canoe body by its own mesh.
        others: keel, skeg, houses, wells: each by its own mesh, where it is immersed.
        whole_exact: all of it, as every other result has it, held at no heel.
    """

    condition: str
    stage: Stage
    water_density: float
    spacing: float
    stations: tuple[Station, ...]
    hull_exact: Immersed
    others: tuple[Immersed, ...]
    whole_exact: Immersed

    @property
    def sum_of_products(self) -> float:
        """[m^2]."""
        return sum(station.product for station in self.stations)

    @property
    def sum_of_moments(self) -> float:
        """[m^2]."""
        return sum(station.moment for station in self.stations)

    @property
    def hull(self) -> Immersed:
        """The canoe body by Simpson's rule, both halves."""
        mass = 2.0 * self.spacing / 3.0 * self.sum_of_products * self.water_density
        levers = self.sum_of_moments / self.sum_of_products
        return Immersed("hull", mass, self.stations[0].x + self.spacing * levers)

    @property
    def whole(self) -> Immersed:
        """The canoe body by Simpson's rule with keel, skeg and all else added."""
        return combined("all", (self.hull, *self.others))


def combined(name: str, bodies: tuple[Immersed, ...]) -> Immersed:
    """Several bodies as one body."""
    mass = sum(body.mass for body in bodies)
    return Immersed(name, mass, sum(body.mass * body.lcb for body in bodies) / mass)


def half_area(section: FloatArray, water_z: float) -> float:
    """[m^2] of half a section below the water.

    Args:
        section: (n, 2) half-breadth and height [m] from the centreline to the sheer.
        water_z: [m].

    >>> half_area(np.array([[0.0, -1.0], [2.0, -1.0], [2.0, 1.0]]), 0.0)
    2.0
    """
    area = 0.0
    for (y, z), (y_next, z_next) in pairwise(section.tolist()):
        rise = z_next - z
        if rise == 0.0:
            continue
        first, last = (min(max((w - z) / rise, 0.0), 1.0) for w in _wet(rise, water_z, z))
        middle = y + (y_next - y) * (first + last) / 2.0
        area += middle * rise * (last - first)
    return area


def simpson_sum(boat: Boat, intervals: int = INTERVALS) -> SimpsonSum:
    """The sum for the refit in her reference condition, held at no heel.

    Args:
        boat: everything built.
        intervals: between stations, an even number.

    Raises:
        ModelError: ``no-stations`` where the number of intervals is odd or less than two;
            ``no-waterplane`` where the water does not cut the hull.
    """
    if intervals < 2 or intervals % 2:
        sentence = f"Simpson's rule needs an even number of intervals; {intervals} were given."
        raise ModelError("no-stations", sentence)
    condition = conditions_of(boat.document)[boat.document.reference_condition]
    rest = afloat(boat, surveyed(boat), refit(boat), condition).rest.upright
    density, plane = rest.water_density, rest.plane
    stations = _stations(boat, plane, intervals)
    bodies = [
        _immersed(piece.id, piece.surface, plane, density if piece.adds else -density)
        for piece in rest.envelope.pieces
    ]
    centre = float(rest.buoyancy_centre[0])
    return SimpsonSum(
        condition.id,
        "refit",
        density,
        stations[1].x - stations[0].x,
        stations,
        bodies[0],
        tuple(body for body in bodies[1:] if body.mass != 0.0),
        Immersed("all", rest.mass, centre),
    )


def _wet(rise: float, water_z: float, z: float) -> tuple[float, float]:
    """Heights between which a leg is under water, in the order in which it runs."""
    return (z, min(water_z, z + rise)) if rise > 0.0 else (min(water_z, z), z + rise)


def _stations(boat: Boat, plane: WaterPlane, intervals: int) -> tuple[Station, ...]:
    fore, aft = _wet_ends(boat.hull, plane)
    x = np.linspace(fore, aft, intervals + 1).tolist()
    stations = []
    for number, station_x in enumerate(x):
        water = plane.water_height(station_x)
        end = number in (0, intervals)
        multiplier = 1 if end else 4 if number % 2 else 2
        area = half_area(boat.hull.section(station_x), water)
        stations.append(Station(number, station_x, water, area, multiplier))
    return tuple(stations)


def _wet_ends(hull: Hull, plane: WaterPlane) -> tuple[float, float]:
    """x [m] of the foremost and aftermost point of the canoe body under water."""
    edges = waterline_outline(hull.surface, plane)
    if not len(edges):
        raise ModelError("no-waterplane", "The waterplane does not cut the hull.")
    vertices = hull.surface.vertices
    under = vertices[plane.height_above(vertices) <= 0.0, 0]
    x = np.concatenate([edges[:, :, 0].ravel(), under])
    # a stern in the water is cut where the lines end, but for rounding
    fore, aft = float(hull.lines.fore_x.min()), hull.transom_x
    return max(fore, float(x.min())), min(aft, float(x.max()))


def _immersed(name: str, surface: Surface, plane: WaterPlane, density: float) -> Immersed:
    if not len(surface.faces):
        return Immersed(name, 0.0, 0.0)
    below = integrals_below(surface, plane)
    if below.volume == 0.0:
        return Immersed(name, 0.0, 0.0)
    return Immersed(name, below.volume * density, float(below.buoyancy_centre[0]))
