"""What may still be added: limits of her centre of gravity, and room on roof, arch, cabin."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from hullchange.afloat.any_displacement import HeeledRound
from hullchange.afloat.at_rest import envelope_of, rest_or_why
from hullchange.afloat.stability import houses_of, particulars
from hullchange.answer.weight_margin import (
    LimitLineResult,
    LimitMargin,
    LoadedDot,
    RoomResult,
    WeightMarginResult,
)
from hullchange.assess.assumed import reason_unjudged
from hullchange.assess.criteria import with_openings_known
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import conditions_of
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.boat.variants import refit
from hullchange.criteria.catalogue import RULES
from hullchange.criteria.criterion import CriterionOutcome, Rule
from hullchange.criteria.facts import Absent, Sides, with_vcg_raised
from hullchange.criteria.vcg_limits import (
    AtDisplacement,
    CriterionMargin,
    LimitLine,
    Margin,
    NoMargin,
    criterion_margin,
    limit_lines,
    margin_sentence,
)
from hullchange.errors import ModelError
from hullchange.floating.equilibrium import Equilibrium
from hullchange.geometry.frame import FloatArray
from hullchange.plain_words import condition_in_words
from hullchange.survey.as_found import amidships, surveyed
from hullchange.units import mm_of_m

STATIONS = 5
BEYOND = 0.05
"""Range of the lines beyond the lightest and the heaviest condition."""
SAME_PLACE = 1e-3  # [m] of her weight lengthwise
ARCH, CABIN = 2.2, 0.3
"""[m] above the design waterline: of an arch aft, and of what is stowed low in the cabin."""
REMARKS = (
    "Lines: free to trim, with LCG as her conditions have it at each displacement; trim is "
    "held at each heel while VCG is raised.",
    "Liquids are taken as frozen; each point is raised by its free surfaces instead.",
    "Each line counts the openings that its own rule counts; where the document says too "
    "little of one, it is counted.",
    "Added weight is taken to lie at her LCG, on the centreline.",
)


@dataclass(frozen=True, eq=False)
class LoadedPoint:
    """The refit in a condition.

    Attributes:
        condition: id.
        mass: displacement [kg].
        centre: (3,) [m] centre of gravity.
        fluid: (3,) [m] the same, raised by free surfaces.
    """

    condition: str
    mass: float
    centre: FloatArray
    fluid: FloatArray

    @classmethod
    def of(cls, condition: str, rest: Equilibrium) -> "LoadedPoint":
        """The point of a float, held upright as the limits are."""
        rest = rest.upright
        centre = rest.centre_of_gravity
        lost = np.array([0.0, 0.0, rest.gm_transverse_solid - rest.gm_transverse])
        return cls(condition, rest.mass, centre, centre + lost)


@dataclass(frozen=True, eq=False)
class LimitLines:
    """Limits of every criterion over displacement, for two places of her weight lengthwise.

    Attributes:
        lcg: [m] the two places, the foremost and the aftmost of her conditions.
        fore: lines for the first.
        aft: lines for the second; between them a limit goes straight.
    """

    lcg: tuple[float, float]
    fore: tuple[LimitLine, ...]
    aft: tuple[LimitLine, ...]

    def at(self, lcg: FloatArray | float) -> tuple[LimitLine, ...]:
        """Lines for a place [m], or for one (n,) at each displacement."""
        low, high = self.lcg
        share = (np.asarray(lcg) - low) / (high - low) if high > low else 0.0
        return tuple(
            LimitLine(
                one.criterion,
                one.displacement,
                one.vcg + share * (other.vcg - one.vcg),
                tuple(a and b for a, b in zip(one.found, other.found, strict=True)),
                one.undecided,
            )
            for one, other in zip(self.fore, self.aft, strict=True)
        )


def weight_margin(boat: Boat) -> WeightMarginResult:
    """What the refit may still take, in the document's water.

    Conditions with a flooded well are another boat and stay out.

    Raises:
        ModelError: ``no-limits`` where criteria cannot be put to her over the displacements of
            her conditions; what keeps her from floating.
    """
    dots, left_out = _dots(boat)
    stations = list(_stations(dots))
    limits = _limits(boat, dots, stations)
    usual = limits.at(np.array([centre[0] for _, centre in stations]))
    return WeightMarginResult(
        water_density_kg_m3=boat.document.water.density_kg_m3,
        lines=tuple(_line(line) for line in usual),
        dots=tuple(_dot(dot, usual) for dot in dots),
        rooms=tuple(
            _room(lines, dot, *place)
            for dot in dots
            for lines in [limits.at(float(dot.centre[0]))]
            for place in _places(boat)
        ),
        remarks=(*filter(None, [reason_unjudged(boat.document)]), *REMARKS, *left_out),
    )


def _limits(
    boat: Boat, dots: list[LoadedPoint], stations: list[tuple[float, FloatArray]]
) -> LimitLines:
    hull, density = hull_result(boat), boat.document.water.density_kg_m3
    about = particulars(boat, "refit", (hull.beam_m, hull.beam_waterline_m))
    heeled = HeeledRound(boat, "refit", envelope_of(boat, refit(boat)), density, about)
    places = sorted({float(dot.centre[0]) for dot in dots})
    ends = places[0], places[-1] if places[-1] - places[0] > SAME_PLACE else places[0]
    facts = {
        (lcg, mass): heeled.facts(mass, np.array([lcg, *centre[1:]]))
        for lcg in sorted(set(ends))
        for mass, centre in stations
    }
    known = {at: sides for at, sides in facts.items() if not isinstance(sides, Absent)}
    rules = tuple(rule for rule in RULES if _answered(rule, known.values()))
    if len(known) < len(facts) or not rules:
        sentence = "No limits can be drawn: she tips end over end before 90° of heel."
        raise ModelError("no-limits", sentence, "conditions")
    unjudged = reason_unjudged(boat.document) != ""
    undecided = {
        r.criterion.id for r in rules if unjudged or _is_undecided(boat, r, known.values())
    }
    lines = {
        lcg: limit_lines(
            tuple(
                AtDisplacement(
                    mass, float(centre[2]), partial(with_vcg_raised, known[lcg, mass])
                )
                for mass, centre in stations
            ),
            rules,
        )
        for lcg in set(ends)
    }
    fore, aft = (
        tuple(replace(one, undecided=one.criterion.id in undecided) for one in lines[lcg])
        for lcg in ends
    )
    return LimitLines(ends, fore, aft)


def _is_undecided(boat: Boat, rule: Rule, facts: Iterable[Sides]) -> bool:
    """Whether a rule's answer depends anywhere on openings that are not fully described."""
    answers = (rule.answer(sides) for sides in facts)
    return any(
        isinstance(one, CriterionOutcome) and with_openings_known(boat, one).undecided
        for one in answers
    )


def _dots(boat: Boat) -> tuple[list[LoadedPoint], tuple[str, ...]]:
    """Each condition as a dot, and in sentences which are left out."""
    as_surveyed, variant = surveyed(boat), refit(boat)
    dots: list[LoadedPoint] = []
    flooded: list[str] = []
    sunk: list[str] = []
    for condition in conditions_of(boat.document).values():
        if "refit" not in condition.stages:
            continue
        if condition.is_flooded:
            flooded.append(condition.id)
            continue
        rest = rest_or_why(boat, as_surveyed, variant, condition)
        if isinstance(rest, ModelError):
            sunk.append(condition.id)
        else:
            dots.append(LoadedPoint.of(condition.id, rest))
    if not dots:
        sentence = (
            "No limits can be drawn: in no condition does the refit float without "
            "being flooded."
        )
        raise ModelError("no-limits", sentence, "conditions")
    out = (("flooded", flooded), ("she does not float", sunk))
    remarks = (
        f"Left out because {why}: {', '.join(map(condition_in_words, names))}."
        for why, names in out
        if names
    )
    return dots, tuple(remarks)


def _stations(dots: list[LoadedPoint]) -> Iterator[tuple[float, FloatArray]]:
    """Displacements [kg] over all conditions, with the centre (3,) that those near it have."""
    in_order = sorted(dots, key=lambda dot: dot.mass)
    masses = np.array([dot.mass for dot in in_order])
    centres = np.array([dot.fluid for dot in in_order])
    ends = masses[0] * (1.0 - BEYOND), masses[-1] * (1.0 + BEYOND)
    for mass in np.linspace(*ends, STATIONS).tolist():
        yield mass, np.array([np.interp(mass, masses, centres[:, k]) for k in range(3)])


def _answered(rule: Rule, facts: Iterable[Sides]) -> bool:
    answers = (rule.answer(sides) for sides in facts)
    return rule.by_levers and all(isinstance(a, CriterionOutcome) for a in answers)


def _places(boat: Boat) -> tuple[tuple[str, float], ...]:
    houses = houses_of(boat)
    bodies = (body for body in refit(boat).bodies if body.id in houses)
    tops = [float(body.surface.bounds[1, 2]) for body in bodies]
    x = amidships(boat)
    deck = float(boat.hull.deck_z(np.array([x]), np.array([0.0]))[0])
    highest = ("the roof", max(tops)) if tops else ("the deck amidships", deck)
    return (highest, ("an arch", ARCH), ("the cabin", CABIN))


def _room(
    lines: tuple[LimitLine, ...], dot: LoadedPoint, place: str, height: float
) -> RoomResult:
    found_here = tuple(
        criterion_margin(line, dot.mass, float(dot.fluid[2]), height) for line in lines
    )
    judged = [one for one in found_here if one.can_be_judged]
    first = min(judged, key=_mass, default=None)
    fails = first is not None and isinstance(first.answer, Margin | NoMargin)
    return RoomResult(
        condition=dot.condition,
        place=place,
        height_m=height,
        mass_kg=0.0 if first is None else _mass(first),
        up_to_there_none_fails=not fails,
        fails_first=first.criterion.id if first is not None and fails else "",
        sentence=margin_sentence(place, height, found_here),
    )


def _mass(one: CriterionMargin) -> float:
    return 0.0 if isinstance(one.answer, NoMargin) else one.answer.mass


def _line(line: LimitLine) -> LimitLineResult:
    rule = line.criterion
    return LimitLineResult(
        id=rule.id,
        title=rule.title,
        source=rule.source,
        grade=rule.grade.value,
        can_be_judged=line.can_be_judged,
        displacement_kg=tuple(line.displacement.tolist()),
        vcg_m=tuple(line.vcg.tolist()),
        found=line.found,
    )


def _dot(dot: LoadedPoint, lines: tuple[LimitLine, ...]) -> LoadedDot:
    return LoadedDot(
        condition=dot.condition,
        displacement_kg=dot.mass,
        vcg_m=float(dot.centre[2]),
        vcg_fluid_m=float(dot.fluid[2]),
        margins=_margins(dot, lines),
    )


def _margins(dot: LoadedPoint, lines: tuple[LimitLine, ...]) -> tuple[LimitMargin, ...]:
    """How far she lies below each line as it is drawn, straight between its displacements."""
    limits = [float(np.interp(dot.mass, line.displacement, line.vcg)) for line in lines]
    margins = [
        (not line.can_be_judged, mm_of_m(limit - float(dot.fluid[2])), line, limit)
        for line, limit in zip(lines, limits, strict=True)
    ]
    return tuple(
        LimitMargin(id=line.criterion.id, limit_m=limit, left_mm=left)
        for _, left, line, limit in sorted(margins, key=lambda one: one[:2])
    )
