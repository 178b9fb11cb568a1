"""Compartments of the hull that stand open to the sea: the buoyancy that is lost with them.

The sea comes and goes freely, so that what floods is taken from what floats and weighs nothing.
Of a compartment that its contents fill in part, a share of its length is taken in many equal
places: its volume, its waterplane and their moments come out as that share.
"""

import numpy as np

from hullchange.boat.boat import Boat
from hullchange.boat.conditions import LoadingCondition
from hullchange.boat.rooms import room_between
from hullchange.boat.variants import Variant
from hullchange.cache import cached
from hullchange.floating.envelope import Piece
from hullchange.geometry.surface import Surface, box, difference, intersection, joined

SLICES = 40
"""Places in which a share of a compartment is taken: of a wedge it is right to 1 in 10,000."""

COMPARTMENTS = "compartments."
"""How the ids of lost pieces begin."""


def compartment_room(boat: Boat, name: str) -> Surface:
    """The closed inside of a compartment: the hull between its bulkheads.

    Raises:
        ModelError: ``room-empty``.
    """
    given = boat.document.hull.compartments[name]
    spans = (given.x_m, given.y_m, given.z_m)
    return room_between(boat.hull.surface, spans, f"hull.compartments.{name}")


def lost_buoyancy(
    boat: Boat, variant: Variant, condition: LoadingCondition
) -> tuple[Piece, ...]:
    """What flooded compartments take from what floats, none of it twice.

    Raises:
        ModelError: ``room-empty``.
    """
    taken = [piece.surface for piece in variant.bodies if not piece.adds]
    lost = []
    for name in condition.compartments:
        room = compartment_room(boat, name)
        for other in taken:
            if len(room.faces):
                room = difference(room, other)
        taken.append(room)
        share = boat.document.hull.compartments[name].permeability
        if len(room.faces):
            lost.append(Piece(_share(room, share), adds=False, id=f"{COMPARTMENTS}{name}"))
    return tuple(lost)


@cached(32)
def _share(room: Surface, share: float) -> Surface:
    """A share of a closed body, taken in many equal places along it."""
    if share >= 1.0:
        return room
    low, high = room.bounds
    step = (high[0] - low[0]) / SLICES
    slices = [
        box(
            np.array([x - share * step / 2.0, low[1] - 1.0, low[2] - 1.0]),
            np.array([x + share * step / 2.0, high[1] + 1.0, high[2] + 1.0]),
        )
        for x in low[0] + step * (np.arange(SLICES) + 0.5)
    ]
    return intersection(room, joined(tuple(slices)))
