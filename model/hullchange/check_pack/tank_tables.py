"""Tanks over their fill, and the fill that leaves a boat the least stability."""

from dataclasses import dataclass, replace
from math import inf

import numpy as np
from scipy.optimize import minimize_scalar

from hullchange.afloat.at_rest import condition_weights, rest_or_why
from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import LoadingCondition, conditions_of
from hullchange.boat.variants import Variant, as_found, refit
from hullchange.errors import ModelError
from hullchange.floating.liquids import liquid_integrals
from hullchange.geometry.frame import up_vector
from hullchange.survey.as_found import AsSurveyed, surveyed, tank_of

FILLS = tuple(0.05 * k for k in range(21))
LITRES_PER_M3 = 1000.0
UPRIGHT = up_vector(0.0, 0.0)
CLOSE = 1e-6  # [m^3] of a fill that is searched


@dataclass(frozen=True)
class TankFill:
    """A tank at one fill, upright.

    Attributes:
        fill: share of what it holds, 0 to 1.
        volume: [m^3].
        mass: [kg].
        centre: (x, y, z) [m]; of an empty tank, of its bottom.
        free_surface_moment: [kg m] density times the second moment of the surface about its
            own fore-and-aft axis; over displacement it is what GM loses. None where the liquid
            fills the tank to its top.
    """

    fill: float
    volume: float
    mass: float
    centre: tuple[float, float, float]
    free_surface_moment: float


@dataclass(frozen=True)
class WorstFill:
    """The fill of a tank that leaves the smallest GM in a condition, all else as it is there.

    Attributes:
        condition: its name.
        stage: which boat.
        tank: its name.
        volume: [m^3] at the smallest GM.
        gm: [m] there, held upright, the liquid moving.
        gm_as_filled: [m] at the condition's own fill.
    """

    condition: str
    stage: Stage
    tank: str
    volume: float
    gm: float
    gm_as_filled: float


def capacity(boat: Boat, name: str) -> float:
    """[m^3] that a tank with a shape holds: its own figure, or its shape where that is less."""
    inside = tank_of(boat, name, 0.0).surface.volume
    return min(boat.document.tanks[name].capacity_l / LITRES_PER_M3, inside)


def tank_tables(boat: Boat) -> dict[str, tuple[TankFill, ...]]:
    """Every tank with a shape, empty to full; one without has no surface to move."""
    return {
        name: tuple(_filled(boat, name, fill) for fill in FILLS)
        for name, tank in boat.document.tanks.items()
        if tank.has_shape
    }


def worst_fills(boat: Boat) -> tuple[WorstFill, ...]:
    """For each condition, boat and tank with a shape, the fill that leaves the smallest GM.

    Conditions in which she does not float stay out.
    """
    as_surveyed = surveyed(boat)
    variants = {v.stage: v for v in (as_found(boat), refit(boat))}
    return tuple(
        worst
        for condition in conditions_of(boat.document).values()
        for stage in condition.stages
        for name, tank in boat.document.tanks.items()
        if tank.has_shape and _has(boat, as_surveyed, variants[stage], condition, name)
        for worst in [_worst(boat, as_surveyed, variants[stage], condition, name)]
        if worst is not None
    )


def _filled(boat: Boat, name: str, fill: float) -> TankFill:
    volume = fill * capacity(boat, name)
    density = boat.document.tanks[name].liquid_density()
    if volume == 0.0:
        low = tank_of(boat, name, 0.0).surface.bounds
        x, y, z = (float(c) for c in (*low.mean(axis=0)[:2], low[0, 2]))
        return TankFill(fill, 0.0, 0.0, (x, y, z), 0.0)
    liquid = liquid_integrals(tank_of(boat, name, volume), UPRIGHT)
    x, y, z = (float(c) for c in liquid.buoyancy_centre)
    moment = density * float(liquid.waterplane_inertia[1, 1])
    return TankFill(fill, volume, density * volume, (x, y, z), moment)


def _with(condition: LoadingCondition, tank: str, volume: float) -> LoadingCondition:
    return replace(condition, fills={**condition.fills, tank: volume})


def _has(
    boat: Boat,
    as_surveyed: AsSurveyed,
    variant: Variant,
    condition: LoadingCondition,
    tank: str,
) -> bool:
    """Whether this boat has the tank at all: another fill of it must weigh something."""
    half = capacity(boat, tank) / 2.0
    there = condition_weights(boat, as_surveyed, variant, _with(condition, tank, half)).tanks
    return any(liquid.name == tank for liquid in there)


def _worst(
    boat: Boat,
    as_surveyed: AsSurveyed,
    variant: Variant,
    condition: LoadingCondition,
    tank: str,
) -> WorstFill | None:
    """The worst of the fills she floats with; None where she does not float as filled."""
    most = capacity(boat, tank)
    as_filled = rest_or_why(boat, as_surveyed, variant, condition)
    if isinstance(as_filled, ModelError):
        return None

    def gm(volume: float) -> float:
        filled = _with(condition, tank, volume)
        rest = rest_or_why(boat, as_surveyed, variant, filled, as_filled)
        return inf if isinstance(rest, ModelError) else rest.upright.gm_transverse

    volumes = [fill * most for fill in FILLS]
    found_gm = [gm(volume) for volume in volumes]
    k = int(np.argmin(found_gm))
    around = volumes[max(k - 1, 0)], volumes[min(k + 1, len(volumes) - 1)]
    finer = minimize_scalar(gm, bounds=around, method="bounded", options={"xatol": CLOSE})
    best = min((found_gm[k], volumes[k]), (float(finer.fun), float(finer.x)))
    return WorstFill(
        condition.id, variant.stage, tank, best[1], best[0], as_filled.upright.gm_transverse
    )
