"""One boat in one loading condition: her weight and her equilibrium."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from hullchange.boat.boat import Boat
from hullchange.boat.compartments import lost_buoyancy
from hullchange.boat.conditions import LoadingCondition
from hullchange.boat.variants import Variant
from hullchange.boat.weights import Weight, WeightSum, sum_of_weight, total
from hullchange.boat.wells import Well, held_water, wells_of
from hullchange.cache import cached
from hullchange.document import items
from hullchange.errors import ModelError
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import (
    Equilibrium,
    Loading,
    Tank,
    equilibrium,
    predicted,
)
from hullchange.survey.as_found import AsSurveyed, tank_of
from hullchange.survey.lines_error import LinesError

NO_REST = frozenset({"sinks", "no-mass", "no-volume", "no-equilibrium"})
"""Codes of refusals where one boat does not float in one condition."""
FLOODING_ROUNDS = 100
SETTLED = 1e-9  # [m^3]


@dataclass(frozen=True, eq=False)
class ConditionWeights:
    """What a boat weighs in a condition.

    Attributes:
        shared: what both boats have in common: as found and loads.
        variant: the boat, for what the refit changes.
        tanks: liquids that move.
        corrections: what was aboard at the survey and is not, and liquids that do not move,
            by path in the document; counted in ``shared``.
        as_surveyed: the boat as surveyed; ``shared`` has her errors without those of her lines.
    """

    shared: WeightSum
    variant: Variant
    tanks: tuple[Tank, ...]
    corrections: tuple[tuple[str, WeightSum], ...]
    as_surveyed: AsSurveyed

    @property
    def shape(self) -> LinesError:
        """The errors of her measured lines, which both boats share."""
        return self.as_surveyed.shape

    @cached_property
    def changed(self) -> WeightSum:
        """What the refit changes."""
        return self.variant.account

    @cached_property
    def account(self) -> WeightSum:
        """Everything but the liquids that move, with what is not known of it."""
        return self.shared + self.changed

    @property
    def solid(self) -> WeightSum:
        """The same by its numbers alone, which is all that floating asks."""
        return self.shared + self.variant.known


@dataclass(frozen=True, eq=False)
class Afloat:
    """A boat at rest in a condition."""

    rest: Equilibrium
    weights: ConditionWeights


def afloat(
    boat: Boat,
    as_surveyed: AsSurveyed,
    variant: Variant,
    condition: LoadingCondition,
    like: Equilibrium | None = None,
) -> Afloat:
    """The equilibrium of a boat in a condition.

    Args:
        boat: everything built.
        as_surveyed: the boat as surveyed.
        variant: which boat.
        condition: how she is loaded.
        like: a float not far from this one, from which the answer is near; the survey's water
            by default.

    Raises:
        ModelError: where she does not come to rest, placed at the condition.
    """
    weights = condition_weights(boat, as_surveyed, variant, condition)
    lost = lost_buoyancy(boat, variant, condition)
    floats = replace(variant, bodies=(*variant.bodies, *lost)) if lost else variant
    envelope = envelope_of(boat, floats)
    try:
        loading = _loading(weights, weights.tanks)
        near = as_surveyed.fitted.plane if like is None else predicted(like, loading)
        rest = equilibrium(envelope, loading, condition.water_density, near)
        wells = wells_of(boat, variant, condition)
        if wells:
            # a well full of water weighs what it holds, and the shell round it floats
            filled = {well.name for well in wells}
            bodies = tuple(b for b in floats.bodies if b.adds or b.id not in filled)
            shell = envelope_of(boat, replace(variant, bodies=bodies))
            rest = _flooded(shell, weights, condition, wells, rest)
    except ModelError as error:
        raise error.at(f"conditions.{condition.id}") from error
    return Afloat(rest, weights)


def rest_or_why(
    boat: Boat,
    as_surveyed: AsSurveyed,
    variant: Variant,
    condition: LoadingCondition,
    like: Equilibrium | None = None,
) -> Equilibrium | ModelError:
    """The equilibrium of a boat in a condition, or the refusal if there is none."""
    try:
        return afloat(boat, as_surveyed, variant, condition, like).rest
    except ModelError as error:
        if error.code not in NO_REST:
            raise
        return error


def afloat_in_reference(
    boat: Boat, as_surveyed: AsSurveyed, variant: Variant, condition: LoadingCondition
) -> Equilibrium:
    """The equilibrium of a boat in her reference condition, which all else is compared with.

    Raises:
        ModelError: as `afloat`; the sentence offers another reference condition.
    """
    try:
        return afloat(boat, as_surveyed, variant, condition).rest
    except ModelError as error:
        sentence = (
            f"{error.sentence} Every effect is calculated in this condition: correct it, or "
            "name another one under reference_condition."
        )
        raise ModelError(error.code, sentence, error.place) from error


def envelope_of(boat: Boat, variant: Variant) -> Envelope:
    """What floats of a boat, made once for the same pieces."""
    return _envelope((*boat.hull_bodies, *variant.bodies))


@cached(64)
def _envelope(pieces: tuple[Piece, ...]) -> Envelope:
    return Envelope(pieces)


def condition_weights(
    boat: Boat, as_surveyed: AsSurveyed, variant: Variant, condition: LoadingCondition
) -> ConditionWeights:
    """What a boat weighs in a condition."""
    corrections: list[tuple[str, WeightSum]] = []
    tanks: list[Tank] = []
    for name, item in boat.document.survey.aboard.items():
        gone = name in variant.taken_off
        boxed = isinstance(item, items.FillAboard) and item.tank in as_surveyed.liquids
        weight, path = as_surveyed.aboard[name], f"survey.aboard.{name}"
        if gone and boxed:
            # it was in its tank, not in the solid boat; taking it off carries its error
            corrections.append((path, WeightSum.of(weight.numbers, np.zeros((4, 4)))))
        held_in = item.tank if isinstance(item, items.FillAboard) else name
        if gone or not (name in condition.without or held_in in condition.fills):
            continue
        # of a boxed tank the liquid is no part of the solid boat, but its error is
        corrections.append((path, _error_of(weight) if boxed else -weight))
    for name, volume in _fills(boat, as_surveyed, variant, condition):
        tank = boat.document.tanks[name]
        if tank.has_shape:
            tanks.append(tank_of(boat, name, volume))
        elif tank.at_m is not None:
            mass = volume * tank.liquid_density()
            path = f"tanks.{name}"
            corrections.append((path, sum_of_weight(Weight(path, mass, tank.at_m))))
    shared = total(
        [as_surveyed.solid, condition.load, *(account for _, account in corrections)]
    )
    return ConditionWeights(shared, variant, tuple(tanks), tuple(corrections), as_surveyed)


def _error_of(weight: WeightSum) -> WeightSum:
    return WeightSum.of(np.zeros(4), weight.covariance)


def _fills(
    boat: Boat, as_surveyed: AsSurveyed, variant: Variant, condition: LoadingCondition
) -> Iterator[tuple[str, float]]:
    """Each tank that holds something the rigid boat does not, and its volume [m^3]."""
    for name, tank in boat.document.tanks.items():
        aboard = _aboard_in(boat, name)
        there = (
            aboard not in variant.taken_off if aboard else tank.boat in (None, variant.stage)
        )
        if not there or (aboard in condition.without and name not in condition.fills):
            continue
        liquids = as_surveyed.liquids
        read = liquids[name].liquid_volume if name in liquids else 0.0
        volume = condition.fills.get(name, read)
        if volume > 0.0:
            yield name, volume


def _aboard_in(boat: Boat, tank: str) -> str:
    """Name under survey.aboard of what a tank held, or empty."""
    for name, item in boat.document.survey.aboard.items():
        if tank == (item.tank if isinstance(item, items.FillAboard) else name):
            return name
    return ""


def _loading(weights: ConditionWeights, tanks: tuple[Tank, ...]) -> Loading:
    account = weights.solid
    return Loading(account.mass, np.array(account.centre), tanks)


def _flooded(
    envelope: Envelope,
    weights: ConditionWeights,
    condition: LoadingCondition,
    wells: tuple[Well, ...],
    dry: Equilibrium,
) -> Equilibrium:
    """At rest with the wells filled to their lowest spill point in the attitude reached."""
    rest = dry
    volumes = [0.0] * len(wells)
    for _ in range(FLOODING_ROUNDS):
        water = [held_water(well, rest.plane, condition.water_density) for well in wells]
        change = max(
            abs(tank.liquid_volume - before)
            for tank, before in zip(water, volumes, strict=True)
        )
        volumes = [tank.liquid_volume for tank in water]
        if change < SETTLED:
            return rest
        loading = _loading(weights, (*weights.tanks, *water))
        rest = equilibrium(envelope, loading, condition.water_density, rest.plane)
    sentence = (
        "The water in her wells never settles: the more she takes, the deeper she "
        "sinks there. Make the well smaller or leave it out of floods."
    )
    raise ModelError("no-equilibrium", sentence)
