"""A person in the boat as found and in the refit: where she stands, and under which houses."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from hullchange.answer.person import HelmResult, Posture
from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.document.document import Document
from hullchange.geometry.frame import FloatArray
from hullchange.hull.hull import Hull
from hullchange.parts.parameters import Cockpit, Deckhouse
from hullchange.parts.stacked import carried_by
from hullchange.person.headroom import House, proposed_sole, underside
from hullchange.person.parameters import Person
from hullchange.person.sight import seated_eye, standing_eye
from hullchange.units import m_of_mm

FROM_AFTER_END = 0.30
"""[m] of the foot well behind her where the helm is assumed: an own choice."""
FIGURES = {"standing": "sight_blind_m", "seated": "sight_blind_seated_m"}
"""The figure of a condition that tells the blind distance of each posture."""


@dataclass(frozen=True, eq=False)
class PersonAboard:
    """One boat with the person in her.

    Attributes:
        stage: which boat.
        person: as entered.
        hull: of the boat.
        parts: that are aboard.
    """

    stage: Stage
    person: Person
    hull: Hull
    parts: tuple[BuiltPart, ...]

    @cached_property
    def houses(self) -> tuple[House, ...]:
        """The houses over the cabin, each with what stands on it and opens into it."""
        return tuple(self._house(part) for part in self.parts if _over_the_cabin(part))

    def _house(self, part: BuiltPart) -> House:
        given, shape = part.dimensions, part.part.house
        assert isinstance(given, Deckhouse)
        assert shape is not None
        upper = []
        for other in self.parts:
            dimensions, above = other.dimensions, other.part.house
            if not (isinstance(dimensions, Deckhouse) and dimensions.stand == part.id):
                continue
            hole = (
                np.zeros((0, 2)) if above is None else carried_by(shape, dimensions, above).hole
            )
            if len(hole):
                upper.append((self._house(other), hole))
        return House(part.id, shape, given, tuple(upper))

    @cached_property
    def helm(self) -> HelmResult | None:
        """Where she steers; of a boat with a cockpit proposed where it is not entered."""
        given, cockpit = self.person.helm, self._cockpit
        if given is not None:
            x, y, floor, seat = given.x_m, given.y_m, given.floor_z_m, given.seat_z_m
            floor = self._floor(x, y) if floor is None else floor
        elif cockpit is not None:
            start, length = cockpit.foot_well_forward_m, cockpit.foot_well_m[0]
            x, y, seat = start + max(length / 2.0, length - FROM_AFTER_END), 0.0, None
            floor = self._floor(x, y)
        else:
            return None
        height = self.person.height_m
        return HelmResult(
            id=self.stage,
            given="assumed" if given is None else "entered",
            x_m=x,
            y_m=y,
            floor_z_m=floor,
            seat_z_m=seat,
            eye_z_m=standing_eye(floor, height),
            seated_eye_z_m=None if seat is None else seated_eye(seat, height),
        )

    @property
    def _cockpit(self) -> Cockpit | None:
        wells = [p.dimensions for p in self.parts if isinstance(p.dimensions, Cockpit)]
        return wells[-1] if wells else None

    def _floor(self, x: float, y: float) -> float:
        """Top of what is underfoot [m]: a well's sole, its seats, or the deck."""
        for part in self.parts:
            well = part.dimensions
            if not isinstance(well, Cockpit):
                continue
            seats, plate = well.deck_z_m - well.seat_well_m[2], m_of_mm(well.plate_mm) / 2.0
            for start, (length, width, depth), above in (
                (well.foot_well_forward_m, well.foot_well_m, seats),
                (well.x_forward_m, well.seat_well_m, well.deck_z_m),
            ):
                if start <= x <= start + length and abs(y) <= width / 2.0:
                    return above - depth + plate
        within = np.clip(np.array([x]), self.hull.stem_x, self.hull.transom_x)
        return float(self.hull.deck_z(within, np.array([y]))[0])

    def eye(self, posture: Posture) -> FloatArray | None:
        """(3,) her eye [m]; None where she has none there."""
        helm = self.helm
        if helm is None:
            return None
        z = helm.eye_z_m if posture == "standing" else helm.seated_eye_z_m
        return None if z is None else np.array([helm.x_m, helm.y_m, z])

    def roof_over(self, eye: FloatArray) -> str:
        """Path of a house or cover whose roof is over an eye (3,) [m]; empty where none is."""
        for part in self.parts:
            given, shape = part.dimensions, part.part.house
            if isinstance(given, Deckhouse) and shape is not None:
                house, at = House(part.id, shape, given), eye[:, None]
                roof = float(underside(house, at[0], at[1], 0.0)[0])
                floor = float(shape.host.deck_z(at[0], at[1])[0])
                if floor < eye[2] <= roof:
                    return part.path
        return ""


def _over_the_cabin(part: BuiltPart) -> bool:
    """Whether a part is a house that one stands in from below."""
    given = part.dimensions
    if not isinstance(given, Deckhouse) or part.part.house is None or given.open_aft:
        return False
    return given.stand is None or given.shared_end == "forward" or given.opens_below


def aboard(boat: Boat) -> tuple[PersonAboard, ...]:
    """The person in each boat; empty where none is entered."""
    person = boat.document.person
    if person is None:
        return ()
    gone = {change.replaces for change in boat.document.changes.values()}
    stays = tuple(part for part in boat.existing.values() if part.path not in gone)
    found = tuple(boat.existing.values())
    return (
        PersonAboard("as_found", person, boat.hull, found),
        PersonAboard("refit", person, boat.hull, (*stays, *boat.parts.values())),
    )


def sole_of(boats: tuple[PersonAboard, ...]) -> FloatArray | None:
    """(n, 2) x and height [m] of the cabin sole; None where nothing tells it.

    Assumed under all houses of both boats where it is not entered.
    """
    person, hull = boats[0].person, boats[0].hull
    if person.sole_points_m is not None:
        return np.array(person.sole_points_m)
    houses = [house.given for one in boats for house in one.houses]
    ends = (
        min((house.x_forward_m for house in houses), default=hull.stem_x),
        max((house.x_aft_m for house in houses), default=hull.transom_x),
    )
    if person.sole_z_m is None and not houses:
        return None
    z = proposed_sole(hull, *ends) if person.sole_z_m is None else person.sole_z_m
    return np.array([[ends[0], z], [ends[1], z]])


def assumes_sole(document: Document) -> bool:
    """Whether headroom rests on a sole that is not entered."""
    person = document.person
    return person is not None and person.sole_z_m is None and person.sole_points_m is None


def assumed_figures(document: Document) -> frozenset[str]:
    """Figures of a condition that rest on a sole or a helm that is assumed."""
    if document.person is None:
        return frozenset()
    sole = {"headroom_least_m"} if assumes_sole(document) else set[str]()
    return frozenset(sole | (set() if document.person.helm else set(FIGURES.values())))
