"""Two cases beside the owner's conditions: a growth margin, and everybody on one side."""

from dataclasses import dataclass, replace

import numpy as np

from hullchange.afloat.at_rest import rest_or_why
from hullchange.afloat.floats_in_conditions import answers_of
from hullchange.answer.assessment import ConditionAnswer, UnansweredResult
from hullchange.answer.wire import Point, Stage
from hullchange.assess.stability import HeeledAnswer, heeled_or_upright, with_stability
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import LoadingCondition, conditions_of
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.boat.variants import as_found, refit
from hullchange.boat.weights import Weight
from hullchange.criteria.facts import Absent
from hullchange.errors import ModelError
from hullchange.floating.equilibrium import Equilibrium
from hullchange.survey.as_found import amidships, surveyed
from hullchange.units import deg_of_rad

GROWTH = 0.05
"""Source: UK MGN 280, 11.8: up to 5 % of lightweight, at the upper deck amidships (opened)."""
PERSON = 75.0
"""[kg] Source: ISO 14946:2021, clause 5, crew limit (quoted elsewhere)."""


@dataclass(frozen=True)
class CrewHeel:
    """Everybody at the sheer amidships, on top of what a condition has aboard.

    Attributes:
        condition: its name.
        stage: which boat.
        persons: so many.
        mass: [kg] of all of them.
        at: (x, y, z) [m] where they are to starboard; mirrored to port.
        heel_before: [deg] without them, positive to starboard; None where she does not float.
        heel_starboard: [deg] with all of them to starboard.
        heel_port: [deg] with all of them to port.
    """

    condition: str
    stage: Stage
    persons: int
    mass: float
    at: Point
    heel_before: float | None
    heel_starboard: float | None
    heel_port: float | None


def deck_amidships(boat: Boat) -> Point:
    """(x, 0, z) [m] of the deck at the centreline, half-way between the perpendiculars."""
    x = amidships(boat)
    return (x, 0.0, float(boat.hull.deck_z(np.array([x]), np.array([0.0]))[0]))


def sheer_amidships(boat: Boat) -> Point:
    """(x, y, z) [m] of the starboard sheer, half-way between the perpendiculars."""
    x, y, z = (float(c) for c in boat.hull.sheer(np.array([amidships(boat)]))[0])
    return (x, y, z)


def growth_margin(boat: Boat) -> tuple[ConditionAnswer, ...]:
    """Every unflooded condition with 5 % of her displacement more, at the deck amidships.

    The rule takes lightweight; displacement is more, so this is on the safe side.
    """
    hull, as_surveyed = hull_result(boat), surveyed(boat)
    beam = (hull.beam_m, hull.beam_waterline_m)
    answers: list[ConditionAnswer] = []
    for condition in conditions_of(boat.document).values():
        for stage in () if condition.is_flooded else condition.stages:
            rest = _rest(boat, condition, stage)
            if isinstance(rest, ModelError):
                answers.append(UnansweredResult.of(condition.id, stage, rest))
                continue
            for one in answers_of(boat, as_surveyed, _grown(boat, condition, stage, rest)):
                heeled = heeled_or_upright(
                    one, lambda row, up: with_stability(boat, row, up, beam)
                )
                answers.append(heeled.answer if isinstance(heeled, HeeledAnswer) else heeled)
    return tuple(answers)


def crew_on_one_side(boat: Boat) -> tuple[CrewHeel, ...] | Absent:
    """The heel in every condition with all persons at the sheer of one side, then the other."""
    persons = boat.document.boat.persons
    if not persons:
        return Absent("How many people she carries is not given (boat.persons).")
    x, y, z = sheer_amidships(boat)
    mass = persons * PERSON
    return tuple(
        CrewHeel(
            condition.id,
            stage,
            persons,
            mass,
            (x, y, z),
            _heel(boat, condition, stage),
            _heel(boat, _loaded(condition, "persons", mass, (x, y, z)), stage),
            _heel(boat, _loaded(condition, "persons", mass, (x, -y, z)), stage),
        )
        for condition in conditions_of(boat.document).values()
        for stage in condition.stages
    )


def _loaded(condition: LoadingCondition, name: str, mass: float, at: Point) -> LoadingCondition:
    load = Weight(name, mass, at)
    return replace(condition, loads=(*condition.loads, load))


def _rest(boat: Boat, condition: LoadingCondition, stage: Stage) -> Equilibrium | ModelError:
    variant = as_found(boat) if stage == "as_found" else refit(boat)
    return rest_or_why(boat, surveyed(boat), variant, condition)


def _heel(boat: Boat, condition: LoadingCondition, stage: Stage) -> float | None:
    rest = _rest(boat, condition, stage)
    return None if isinstance(rest, ModelError) else deg_of_rad(rest.plane.heel)


def _grown(
    boat: Boat, condition: LoadingCondition, stage: Stage, rest: Equilibrium
) -> LoadingCondition:
    mass = GROWTH * rest.mass
    grown = _loaded(condition, "growth-margin", mass, deck_amidships(boat))
    return replace(grown, stages=(stage,))
