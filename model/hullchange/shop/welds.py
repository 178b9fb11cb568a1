"""Weld metal, consumables and shrinkage of the seams: orders of size to plan and buy by."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, tan
from typing import Literal

from hullchange.geometry.seams import JointKind
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.piece import Steel

Process = Literal["stick", "flux-cored", "solid-wire", "tig"]

EFFICIENCY: dict[Process, tuple[float, float]] = {
    "stick": (0.59, 0.66),
    "flux-cored": (0.78, 0.90),
    "solid-wire": (0.93, 0.98),
    "tig": (0.98, 1.00),
}
"""Weld metal over consumable, from and to: makers' handbook tables, seen quoted."""

SQUARE_TO = 4e-3
"""[m] thickest plate butted without a bevel (common practice, no source)."""

ROOT = 2e-3  # [m] gap of a bevelled butt (common practice, no source)
BEVEL = radians(60.0)  # included
REINFORCED = 1.15  # a fillet's own metal over its triangle (common practice, no source)
LEAST_LEG, LEG_STEP, LEG_OF_PLATE = 3e-3, 0.5e-3, 0.7

ACROSS: dict[JointKind, tuple[float, float]] = {
    "butt": (1.5e-3, 3.0e-3),
    "corner": (0.8e-3, 0.8e-3),
    "tee": (0.8e-3, 0.8e-3),
    "lap": (0.8e-3, 0.8e-3),
}
"""[m] a weld draws in across itself, from and to (a welding institute's page, seen)."""

ALONG: dict[JointKind, float] = {
    "butt": 1.0e-3,
    "corner": 0.27e-3,
    "tee": 0.27e-3,
    "lap": 0.27e-3,
}
"""Of its length, a seam shortens (the same page: 3 and 0.8 mm in 3 m)."""


@dataclass(frozen=True)
class Weld:
    """One seam as it is welded.

    Attributes:
        first: part and plate whose edge it is.
        second: part and plate it lies on.
        kind: butt, corner, tee or lap.
        length: [m].
        angle: between the plates [rad].
        thicknesses: of both [m].
        leg: of a fillet [m]; zero for a butt.
        runs: sides it is welded from.
        metal: mass of weld metal [kg].
    """

    first: tuple[str, str]
    second: tuple[str, str]
    kind: JointKind
    length: float
    angle: float
    thicknesses: tuple[float, float]
    leg: float
    runs: int
    metal: float


def welds_of(steel: Steel) -> tuple[Weld, ...]:
    """Every seam as it would be welded by common practice; a consultant's word stands above."""
    return tuple(
        _weld(
            (steel.names[seam.first], steel.names[seam.second]),
            seam.kind,
            (seam.length, seam.angle),
            (steel.plates[seam.first].gauge, steel.plates[seam.second].gauge),
        )
        for seam in steel.seams
    )


def butt_weld(name: tuple[str, str], length: float, thickness: float) -> Weld:
    """The seam between two halves of a plate, by its length [m] and thickness [m]."""
    return _weld((name, name), "butt", (length, 0.0), (thickness, thickness))


def _weld(
    names: tuple[tuple[str, str], tuple[str, str]],
    kind: JointKind,
    length_angle: tuple[float, float],
    thicknesses: tuple[float, float],
) -> Weld:
    length, angle = length_angle
    thin = min(thicknesses)
    if kind == "butt":
        section = thin * thin / 2.0
        if thin > SQUARE_TO + 1e-9:
            section = thin * ROOT + thin**2 * tan(BEVEL / 2.0)
        metal = section * length * STEEL_DENSITY
        return Weld(*names, kind, length, angle, thicknesses, 0.0, 1, metal)
    leg = max(LEAST_LEG, round(LEG_OF_PLATE * thin / LEG_STEP) * LEG_STEP)
    runs = 2 if kind == "tee" else 1
    metal = runs * REINFORCED * leg**2 / 2.0 * length * STEEL_DENSITY
    return Weld(*names, kind, length, angle, thicknesses, leg, runs, metal)


def consumable(metal: float, process: Process) -> tuple[float, float]:
    """Least and most to buy [kg] for a mass of weld metal [kg]."""
    low, high = EFFICIENCY[process]
    return metal / high, metal / low


def shrinkage(welds: Sequence[Weld], name: tuple[str, str]) -> tuple[float, float]:
    """Shrinkage of a plate across all its seams, from and to [m]; not in the drawing.

    The published figure is for one weld. A seam welded from both sides draws in once, where the
    second weld is laid into the heat of the first, to twice (common practice, no source).
    """
    own = [(ACROSS[w.kind], w.runs) for w in welds if name in (w.first, w.second)]
    low = sum(least for (least, _), _ in own)
    return low, sum(runs * most for (_, most), runs in own)
