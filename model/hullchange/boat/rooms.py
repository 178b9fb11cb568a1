"""Rooms inside hull and appendages: what a tank or void within one of them holds."""

from dataclasses import dataclass

import numpy as np

from hullchange.cache import cached
from hullchange.document.document import Document
from hullchange.document.items import Void
from hullchange.errors import ModelError
from hullchange.floating.equilibrium import Tank
from hullchange.floating.integrals import integrals_below
from hullchange.floating.liquids import liquid_integrals
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector
from hullchange.geometry.surface import Surface, box, intersection
from hullchange.hull.appendage_inside import inside_of
from hullchange.hull.hull import Hull
from hullchange.units import m_of_mm

RoomSpans = tuple[tuple[float, float] | None, ...]
"""From and to [m] along, across and up; None where a room reaches as far as it can."""

UPRIGHT = up_vector(0.0, 0.0)
BEYOND = 1.0  # [m] that a cutting box reaches beyond what it cuts


def body_within(hull: Hull, within: str, plate_mm: float | None) -> Surface:
    """The closed inside of the canoe body (its lines) or of an appendage (its plating off).

    Args:
        hull: with its appendages.
        within: ``hull``, or the name of an appendage.
        plate_mm: [mm] plating of the appendage; where None that of its zone of plating.
    """
    if within == "hull":
        return hull.surface
    zone = hull.plating.get(within, 0.0)
    return inside_of(hull.appendages[within], zone if plate_mm is None else m_of_mm(plate_mm))


@cached(64)
def room_between(body: Surface, spans: RoomSpans, place: str) -> Surface:
    """What of a closed body lies between walls along the boat's axes.

    Args:
        body: closed.
        spans: of the walls [m].
        place: where the room stands in the document, for a refusal.

    Raises:
        ModelError: ``room-empty`` where nothing of the body lies there.
    """
    if len(body.faces):
        low, high = body.bounds + np.array([[-BEYOND], [BEYOND]])
        for axis, span in enumerate(spans):
            if span is not None:
                low[axis], high[axis] = max(low[axis], span[0]), min(high[axis], span[1])
        if (low < high).all():
            room = intersection(body, box(low, high))
            if len(room.faces):
                return room
    sentence = (
        "Between these ends and heights there is no room inside the plating: check x_m, y_m "
        "and z_m."
    )
    raise ModelError("room-empty", sentence, place)


@dataclass(frozen=True)
class RoomFill:
    """A room filled level with the boat upright.

    Attributes:
        level: height of what is in it [m].
        volume: [m^3] below that, before anything is taken off for floors.
        centre: of that volume [m].
    """

    level: float
    volume: float
    centre: tuple[float, float, float]


def filled_to(room: Surface, level: float) -> RoomFill:
    """A room filled up to a height [m]."""
    low, high = room.bounds[:, 2].tolist()
    at = min(max(level, low), high)
    below = integrals_below(room, WaterPlane(UPRIGHT, at))
    if below.volume <= 0.0:
        x, y, _ = room.bounds.mean(axis=0).tolist()
        return RoomFill(at, 0.0, (x, y, low))
    return RoomFill(at, below.volume, _point(below.buoyancy_centre))


def filled_with(room: Surface, volume: float) -> RoomFill:
    """A room with a volume [m^3] in it; full where it does not hold so much."""
    if volume <= 0.0:
        return filled_to(room, -np.inf)
    if volume >= room.volume:
        return filled_to(room, np.inf)
    liquid = liquid_integrals(Tank(room, volume, 1.0), UPRIGHT)
    return RoomFill(float(liquid.reference[2]), volume, _point(liquid.buoyancy_centre))


def _point(at: FloatArray) -> tuple[float, float, float]:
    x, y, z = at.tolist()
    return (x, y, z)


@dataclass(frozen=True, eq=False)
class VoidRoom:
    """A void, and what it may be filled with.

    Attributes:
        room: closed inside, with its floors still in it.
        free: share of it that the floors leave.
        density: of the fill, overall [kg/m^3].
    """

    room: Surface
    free: float
    density: float

    @property
    def full_mass(self) -> float:
        """[kg] that it holds full."""
        return self.room.volume * self.free * self.density

    def mass_to(self, level: float) -> float:
        """[kg] that fills it up to a height [m]."""
        return filled_to(self.room, level).volume * self.free * self.density

    def with_mass(self, mass: float) -> RoomFill:
        """How a mass [kg] lies in it; the centre is that of an even fill."""
        holds = self.free * self.density
        return filled_with(self.room, mass / holds if holds else 0.0)


def void_room(document: Document, hull: Hull, name: str) -> VoidRoom:
    """A void of the document.

    Raises:
        ModelError: ``room-empty``.
    """
    void: Void = document.voids[name]
    body = body_within(hull, void.within, void.plate_mm)
    room = room_between(body, (void.x_m, void.y_m, void.z_m), f"voids.{name}")
    return VoidRoom(room, 1.0 - void.taken_by_floors, void.fill.density_kg_m3)
