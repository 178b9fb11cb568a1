"""What a flooded cockpit needs: drain area, the time it takes to empty, a sill that is high."""

from dataclasses import dataclass
from itertools import accumulate
from math import sqrt

from hullchange.criteria.criterion import (
    Criterion,
    CriterionAnswer,
    Evaluated,
    Publication,
    Quantity,
    Sense,
    outcome,
)
from hullchange.criteria.facts import Absent
from hullchange.findings import Grade
from hullchange.units import STANDARD_GRAVITY

DISCHARGE = 0.6
"""Part of the ideal flow that a plain drain passes (common practice, no source)."""

M2_PER_M3 = 0.0254**2 / 0.3048**3
"""One square inch of drain for a cubic foot of recess, in m^2 per m^3."""

EXPOSED = 1.0
"""Part of the basic drainage that exposed waters ask."""

CM2_PER_M2 = 1e4
THREE_MINUTES = 180.0  # [s]
LEFT_LEVEL = 0.100  # [m]


@dataclass(frozen=True)
class RecessLayer:
    """A slice of a recess with upright sides: its plan area [m^2] and its height [m]."""

    area: float
    height: float


@dataclass(frozen=True)
class Recess:
    """A cockpit or well that holds water.

    Attributes:
        layers: from its sole up, as foot well and seat well.
        length: [m] of it that lies in the after two thirds of the deck.
        sole_above_sea: [m] of its sole above the water outside (negative: below).
    """

    layers: tuple[RecessLayer, ...]
    length: float
    sole_above_sea: float

    @property
    def volume(self) -> float:
        """[m^3]."""
        return sum(layer.area * layer.height for layer in self.layers)

    @property
    def depth(self) -> float:
        """[m] from sole to brim."""
        return sum(layer.height for layer in self.layers)


@dataclass(frozen=True)
class Emptied:
    """The time [s] in which a recess empties."""

    seconds: float


@dataclass(frozen=True)
class StaysWet:
    """A recess that never empties to the level: this depth [m] stays in it."""

    depth: float


def drain_time(recess: Recess, drain_area: float, level: float = 0.0) -> Emptied | StaysWet:
    """The time in which a full recess falls to a level.

    The head is the height over the sole, or over the sea where the sole lies below it; drains
    that end lower are quicker, bends and gratings slower.

    Args:
        recess: full.
        drain_area: [m^2] of all drains together.
        level: [m] above the sole.

    Source:
        Torricelli: t = 2 A (sqrt(h1) - sqrt(h2)) / (Cd a sqrt(2 g)), layer by layer.

    >>> well = Recess((RecessLayer(3.2, 0.45),), 2.0, 0.1)
    >>> drain_time(well, 2 * 3.14159265 * 0.03**2).seconds
    285.7
    """
    drowned = max(0.0, -recess.sole_above_sea)
    if drain_area <= 0.0 or level < drowned:
        return StaysWet(min(recess.depth, drowned) if drain_area > 0.0 else recess.depth)
    flow = DISCHARGE * drain_area * sqrt(2.0 * STANDARD_GRAVITY)
    tops = accumulate(layer.height for layer in recess.layers)
    seconds = 0.0
    for layer, top in zip(recess.layers, tops, strict=True):
        low, high = max(top - layer.height, level), max(top, level)
        seconds += 2.0 * layer.area * (sqrt(high - drowned) - sqrt(low - drowned)) / flow
    return Emptied(seconds)


def level_after(recess: Recess, drain_area: float, seconds: float) -> float:
    """Level [m] above the sole that stands in a full recess after a time [s].

    Args:
        recess: full at first.
        drain_area: [m^2] of all drains together.
        seconds: [s] since then.
    """
    drowned, level = max(0.0, -recess.sole_above_sea), recess.depth
    flow = DISCHARGE * drain_area * sqrt(2.0 * STANDARD_GRAVITY)
    for layer in reversed(recess.layers):
        if level <= drowned:
            break
        bottom = max(level - layer.height, drowned)
        root = sqrt(level - drowned) - seconds * flow / (2.0 * layer.area)
        if root >= sqrt(bottom - drowned):
            return drowned + root**2
        fall = sqrt(level - drowned) - sqrt(bottom - drowned)
        seconds -= 2.0 * layer.area * fall / flow
        level = bottom
    return level


def required_drainage(recess: Recess, deck_length: float) -> float:
    """[m^2] Drain area that 46 CFR 178.450 asks in exposed waters, without bulwarks.

    Args:
        recess: its volume and length.
        deck_length: [m] of the vessel (LOD).
    """
    return EXPOSED * recess.volume * recess.length / (deck_length * 2.0 / 3.0) * M2_PER_M3


DRAINAGE = Criterion(
    id="cfr178-drainage",
    title="Drain area of the cockpit",
    document=Publication(
        "46 CFR 178.450",
        "eCFR of 2020",
        "US small passenger vessels under 100 gross tons",
    ),
    clause="(a)",
    formula="drains [in²] ≥ part for the waters × (recess volume [ft³] × its length / LC + "
    "weather deck volume [ft³] × its length / LC), LC = 2/3 of the deck's length",
    limit="at least the basic drainage × 1.0 exposed, 0.5 partially protected, 0.1 protected",
    sense=Sense.AT_LEAST,
    unit="cm2",
    grade=Grade.B,
    seen="text opened",
)
MISPRINT = (
    "The metric line of the text multiplies by 4389.12 where it must divide (1 in² per ft³ is "
    "1/4389.12 cm² per cm³): the line in inches and feet is used."
)
DIVISION_240 = Publication(
    "French order of 23 November 1987, Division 240",
    "as in force after 2019",
    "recreational craft under 24 m, categories A and B (C where stability asks it)",
)
STANDING_WATER = Criterion(
    id="division240-standing-water",
    title="Water left in a full cockpit after three minutes",
    document=DIVISION_240,
    clause="cockpits, III",
    formula="level above the lowest drain three minutes after it was full to the coamings",
    limit="at most 0.100 m",
    sense=Sense.AT_MOST,
    unit="m",
    grade=Grade.B,
    seen="text opened; the level itself by Torricelli",
)
SILL = Criterion(
    id="division240-sill",
    title="Height of the companionway sill above the cockpit sole",
    document=DIVISION_240,
    clause="cockpits, II",
    formula="lowest opening into the boat above the sole",
    limit="at least 0.400 m",
    sense=Sense.AT_LEAST,
    unit="m",
    grade=Grade.B,
    seen="text opened",
)


def drainage(recess: Recess, drain_area: float | Absent, deck_length: float) -> CriterionAnswer:
    """The drains of a recess against 46 CFR 178.450, in exposed waters, without bulwarks.

    Args:
        recess: cockpit or well.
        drain_area: [m^2] of all drains together, or why it is not known.
        deck_length: [m].
    """
    if isinstance(drain_area, Absent):
        return outcome(DRAINAGE, drain_area)
    asked = required_drainage(recess, deck_length)
    inputs = (
        Quantity("volume of the recess", recess.volume, "m3"),
        Quantity("its length", recess.length, "m"),
        Quantity("length of deck", deck_length, "m"),
        Quantity("part for the waters", EXPOSED, ""),
        Quantity("volume between bulwarks", 0.0, "m3"),
    )
    found = Evaluated(drain_area * CM2_PER_M2, asked * CM2_PER_M2, inputs, (MISPRINT,))
    return outcome(DRAINAGE, found)


def standing_water(recess: Recess, drain_area: float | Absent) -> CriterionAnswer:
    """What is left of a full recess after three minutes against Division 240.

    Args:
        recess: full.
        drain_area: [m^2] of all drains together, or why it is not known.
    """
    if isinstance(drain_area, Absent):
        return outcome(STANDING_WATER, drain_area)
    inputs = (
        Quantity("volume", recess.volume, "m3"),
        Quantity("depth", recess.depth, "m"),
        Quantity("sole above the sea", recess.sole_above_sea, "m"),
        Quantity("drain area", drain_area * CM2_PER_M2, "cm2"),
        Quantity("discharge coefficient", DISCHARGE, ""),
    )
    left = level_after(recess, drain_area, THREE_MINUTES)
    return outcome(STANDING_WATER, Evaluated(left, LEFT_LEVEL, inputs))


def sill_height(sill_above_sole: float) -> CriterionAnswer:
    """The lowest opening into the boat [m] above the cockpit sole against Division 240."""
    inputs = (Quantity("sill above the sole", sill_above_sole, "m"),)
    return outcome(SILL, Evaluated(sill_above_sole, 0.400, inputs))
