"""A part: the plates it is made of, the closed volume it adds or takes, its side view."""

from dataclasses import dataclass, field

from hullchange.findings import Finding
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host
from hullchange.geometry.plate import DevelopableMap, Plate
from hullchange.geometry.surface import Surface
from hullchange.parts.house_shape import HouseShape
from hullchange.parts.parameters import Door


@dataclass(frozen=True, eq=False)
class Body:
    """A closed volume, before it is trimmed to the hull.

    Attributes:
        surface: closed; may reach into the hull (house) or above the deck (well): the envelope
            trims it once.
        adds: True where the part adds it to what floats, False where it takes it away.
    """

    surface: Surface
    adds: bool


@dataclass(frozen=True, eq=False)
class Part:
    """What a part builder answers.

    Attributes:
        kind: as in the document.
        plates: plates, bars and tubes; ids are unique within the part.
        bodies: closed volumes it adds to or takes from what floats.
        side_view: closed outlines (n, 2) of (x, z) [m] for the profile drawing.
        roof: the map of the roof's mid-surface, where something may stand on it.
        roof_thickness: [m].
        old_plates: of the hull, cut out for the part; twins stand after their partners.
        findings: what is doubtful about it; places are relative to the part.
        house: its planes and roof, of a deckhouse.
    """

    kind: str
    plates: tuple[Plate, ...]
    bodies: tuple[Body, ...] = ()
    side_view: tuple[FloatArray, ...] = ()
    roof: DevelopableMap | None = None
    roof_thickness: float = 0.0
    old_plates: tuple[Plate, ...] = ()
    findings: tuple[Finding, ...] = field(default=())
    house: HouseShape | None = None


Post = tuple[float, float]
"""A post on the centreline: x of its axis and its radius [m]."""


@dataclass(frozen=True)
class Carried:
    """What a house has to do for another that stands on it or against it.

    Attributes:
        hole: (n, 2) plan [m] of the opening in its roof, to starboard from forward aft; empty
            where the roof is kept.
        shares_after_end: whether the other makes the bulkhead that is both theirs.
    """

    hole: FloatArray
    shares_after_end: bool


@dataclass(frozen=True, eq=False)
class Site:
    """Where a part is built.

    Attributes:
        host: the boat it is fitted to.
        stand: the part it stands on, if any.
        posts: that pass up through it to what stands on it.
        carries: what it has to do for each house that stands on it.
        stand_door: the door of what it stands on, for a bulkhead that is both theirs.
        stand_stays: whether what it stands on is aboard already, so that none of it is built.
    """

    host: Host
    stand: Part | None = None
    posts: tuple[Post, ...] = ()
    carries: tuple[Carried, ...] = ()
    stand_door: Door | None = None
    stand_stays: bool = False
