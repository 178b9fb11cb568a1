"""The kinds of part there are, and those that come later."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from hullchange.parts.bow_platform import bow_platform
from hullchange.parts.bulwark import bulwark
from hullchange.parts.bulwark_parameters import Bulwark, FreeingPorts
from hullchange.parts.cockpit import cockpit
from hullchange.parts.deckhouse import deckhouse
from hullchange.parts.fields import PartDimensions
from hullchange.parts.hull_plate import hull_plate
from hullchange.parts.mast_support import mast_support
from hullchange.parts.parameters import (
    BowPlatform,
    Cockpit,
    Deckhouse,
    Door,
    Drains,
    Flats,
    HullPlate,
    MastSupport,
    Plating,
    SideWindows,
    TransomExtension,
    Windows,
)
from hullchange.parts.part import Part, Site
from hullchange.parts.plating import plating
from hullchange.parts.transom_extension import transom_extension

AnyPart = Annotated[
    Deckhouse
    | Cockpit
    | TransomExtension
    | BowPlatform
    | MastSupport
    | HullPlate
    | Bulwark
    | Plating,
    Field(discriminator="kind"),
]
"""The dimensions of a part of any kind, distinguished by ``kind``."""


@dataclass(frozen=True)
class PartType:
    """One kind of part.

    Attributes:
        parameters: class of its dimensions.
        build: the part for dimensions of that class, on a site.
        title: what it is called, in two words.
        about: what it is, in a sentence.
        example: dimensions to start from.
    """

    parameters: type[PartDimensions]
    build: Callable[[Any, Site], Part]
    title: str
    about: str
    example: PartDimensions


def _kind(title: str, build: Callable[[Any, Site], Part], example: PartDimensions) -> PartType:
    about = (type(example).__doc__ or "").strip()
    return PartType(type(example), build, title, about, example)


_HOUSE = Deckhouse(
    x_forward_m=2.90,
    x_aft_m=7.00,
    roof_half_breadth_forward_m=0.78,
    roof_half_breadth_aft_m=1.14,
    side_height_m=0.58,
    tumblehome_deg=13,
    front_rake_deg=35,
    roof_camber_m=0.060,
    roof_plate_mm=3,
    side_plate_mm=3,
    end_plate_mm=3,
    roof_beams=Flats(spacing_m=0.42, flat_mm=(50, 5)),
    side_stiffeners=Flats(spacing_m=0.40, flat_mm=(40, 4)),
    side_windows=SideWindows(count=3, size_m=(0.62, 0.24), lower_edge_z_m=1.33),
    front_windows=Windows(count=2, size_m=(0.42, 0.24)),
    door=Door(width_m=0.66, sill_z_m=1.12),
)
_COCKPIT = Cockpit(
    x_forward_m=7.00,
    deck_z_m=1.13,
    coaming_top_z_m=1.34,
    seat_well_m=(2.40, 1.60, 0.33),
    foot_well_m=(1.95, 0.80, 0.45),
    foot_well_forward_m=7.25,
    plate_mm=4,
    stiffeners=Flats(spacing_m=0.30, flat_mm=(40, 4)),
    drains=Drains(count=2, diameter_mm=50),
)
_EXTENSION = TransomExtension(
    length_m=0.62,
    bottom_forward_z_m=0.20,
    bottom_aft_z_m=0.30,
    platform_z_m=0.52,
    plate_mm=4,
)
_PLATFORM = BowPlatform(
    length_m=0.95, width_m=0.46, top_plate_mm=6, cheek_plate_mm=10, roller_slot_mm=(90, 420)
)
_SUPPORT = MastSupport(
    x_m=4.10, stand="house", pad_mm=(340, 300, 12), post_mm=(89, 6), floor_mm=(400, 300, 10)
)
_HULL_PLATE = HullPlate(
    x_forward_m=4.0,
    x_aft_m=6.0,
    lower_line="lower-chine",
    upper_line="upper-chine",
    plate_mm=5,
    old_plate_mm=5,
)
_BULWARK = Bulwark(
    x_forward_m=0.5,
    x_aft_m=4.5,
    height_forward_m=0.25,
    height_aft_m=0.18,
    flare_deg=8,
    plate_mm=4,
    cap_rail_mm=(60, 8),
    freeing_ports=FreeingPorts(count=3, size_m=(0.30, 0.08)),
)
_PLATING = Plating(
    corners_m=((6.0, 0.2, 0.0), (7.0, 0.2, 0.0), (7.0, 0.2, 0.5), (6.0, 0.2, 0.5)),
    thickness_mm=5,
)

KINDS: dict[str, PartType] = {
    "deckhouse": _kind("Deckhouse", deckhouse, _HOUSE),
    "cockpit": _kind("Cockpit", cockpit, _COCKPIT),
    "transom_extension": _kind("Transom extension", transom_extension, _EXTENSION),
    "bow_platform": _kind("Bow platform", bow_platform, _PLATFORM),
    "mast_support": _kind("Mast support", mast_support, _SUPPORT),
    "hull_plate": _kind("Hull plate", hull_plate, _HULL_PLATE),
    "bulwark": _kind("Bulwark", bulwark, _BULWARK),
    "plating": _kind("Plate", plating, _PLATING),
}
"""Every kind that can be built."""

LATER: dict[str, str] = {
    "spray_cover": "A spray cover cannot be built yet: use kind plating, plate by plate.",
    "chain_locker": "A chain locker cannot be built yet: use kind plating, plate by plate.",
    "bulkhead": "A bulkhead cannot be built yet: use kind plating with its corners.",
    "keel_ballast": "Keel ballast cannot be built yet: put it in adds, with mass and place.",
    "tube": "A tube cannot be built yet: put it in adds, with mass and place.",
    "bar": "A bar cannot be built yet: put it in adds, with mass and place.",
    "rolled_plate": "A rolled plate cannot be built yet: use kind hull_plate or plating.",
    "rudder_trunk": "A rudder trunk cannot be built yet: put it in adds, with mass and place.",
    "box": "A box cannot be built yet: use kind plating, plate by plate.",
    "script": "A script of your own cannot be run yet: use kind plating, plate by plate.",
}
"""Kinds that come later, refused with these words."""
