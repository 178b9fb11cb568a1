"""How high her centre of gravity may come, and what may still be added where."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import floor

import numpy as np
from scipy.optimize import brentq

from hullchange.criteria.criterion import Criterion, CriterionOutcome, Rule
from hullchange.criteria.facts import Sides
from hullchange.geometry.frame import FloatArray

LeversAt = Callable[[float], Sides]
"""The facts with the centre of gravity higher by so much [m], at the same displacement."""

FARTHEST = 1.0  # [m] of rise or fall that is searched
STEP = 0.125  # [m] between the first rises that are tried
FINE = 1e-5  # [m]
MARGIN_STEPS = 32
ROUND_KG = 10


@dataclass(frozen=True)
class VcgLimit:
    """Where a criterion is just met, going from the centre of gravity she has.

    Attributes:
        criterion: the rule.
        rise: [m] above the present centre of gravity (negative: below) at which it is just
            met; where not ``found``, how far was searched.
        found: whether the answer changes within the search.
    """

    criterion: Criterion
    rise: float
    found: bool


@dataclass(frozen=True, eq=False)
class LimitLine:
    """The highest centre of gravity a criterion allows, over displacement.

    Attributes:
        criterion: the rule.
        displacement: (n,) [kg] rising.
        vcg: (n,) [m] above the design waterline.
        found: (n,) whether the limit was found; elsewhere it lies beyond ``vcg``.
        undecided: whether the answer depends on openings that are not fully described, or
            on what is assumed.
    """

    criterion: Criterion
    displacement: FloatArray
    vcg: FloatArray
    found: tuple[bool, ...]
    undecided: bool = False

    @property
    def can_be_judged(self) -> bool:
        """Whether its limit may be called met or not met at all."""
        return self.criterion.can_be_judged and not self.undecided

    def at(self, displacement: float) -> float:
        """[m] above the design waterline, linear between the computed displacements."""
        return float(np.interp(displacement, self.displacement, self.vcg))


@dataclass(frozen=True)
class Margin:
    """This mass [kg] may be added; then the criterion is just met."""

    mass: float


@dataclass(frozen=True)
class MarginAtLeast:
    """At least this mass [kg] may be added; the limits were computed no further."""

    mass: float


@dataclass(frozen=True)
class NoMargin:
    """Nothing may be added: the criterion is not met already."""


@dataclass(frozen=True)
class CriterionMargin:
    """What a criterion leaves to be added at a height."""

    criterion: Criterion
    answer: Margin | MarginAtLeast | NoMargin
    can_be_judged: bool


@dataclass(frozen=True)
class AtDisplacement:
    """A displacement [kg], her centre of gravity there [m], and her levers as it rises."""

    displacement: float
    vcg: float
    levers_at: LeversAt


def vcg_limits(levers_at: LeversAt, rules: tuple[Rule, ...]) -> tuple[VcgLimit, ...]:
    """For each rule that depends on levers, where it is just met; unanswered ones left out.

    From the present centre of gravity the search goes up while the rule is kept, down while it
    is not, and stops where that first changes.

    Args:
        levers_at: the facts at a rise [m]; asked for each rise once.
        rules: to be looked at.
    """
    facts_at, limits = _asked_once(levers_at), []
    for rule in rules:
        now = rule.worse(facts_at(0.0)) if rule.by_levers else None
        if isinstance(now, CriterionOutcome):
            limits.append(_limit(facts_at, rule, kept=now.keeps_the_limit))
    return tuple(limits)


def _asked_once(levers_at: LeversAt) -> LeversAt:
    """The same facts, for each rise asked once."""
    known: dict[float, Sides] = {}

    def facts_at(rise: float) -> Sides:
        if rise not in known:
            known[rise] = levers_at(rise)
        return known[rise]

    return facts_at


def limit_lines(
    stations: tuple[AtDisplacement, ...], rules: tuple[Rule, ...]
) -> tuple[LimitLine, ...]:
    """The highest centre of gravity over displacement, one line for each rule.

    Args:
        stations: by rising displacement.
        rules: to be looked at.
    """
    worked = [vcg_limits(station.levers_at, rules) for station in stations]
    mass = np.array([station.displacement for station in stations])
    lines = []
    for limits in zip(*worked, strict=True):
        rises = [s.vcg + limit.rise for s, limit in zip(stations, limits, strict=True)]
        found = tuple(limit.found for limit in limits)
        lines.append(LimitLine(limits[0].criterion, mass, np.array(rises), found))
    return tuple(lines)


def criterion_margin(
    line: LimitLine, displacement: float, vcg: float, height: float
) -> CriterionMargin:
    """What may still be added at a height before the criterion fails.

    The added weight sinks her along the line; her trim is taken to stay as the line has it.

    Args:
        line: limits over displacement, reaching beyond the present one.
        displacement: [kg] now.
        vcg: [m] now, above the design waterline.
        height: [m] of what is added, above the design waterline.
    """

    def room(added: float) -> float:
        mass = displacement + added
        return line.at(mass) - (displacement * vcg + added * height) / mass

    if room(0.0) < 0.0:
        return CriterionMargin(line.criterion, NoMargin(), line.can_be_judged)
    most = max(0.0, float(line.displacement[-1]) - displacement)
    looked_at = np.linspace(0.0, most, MARGIN_STEPS + 1).tolist()
    for low, high in pairwise(looked_at):
        if room(high) < 0.0:
            mass = float(brentq(room, low, high, xtol=FINE))
            left = Margin(mass) if all(line.found) else MarginAtLeast(mass)
            return CriterionMargin(line.criterion, left, line.can_be_judged)
    return CriterionMargin(line.criterion, MarginAtLeast(most), line.can_be_judged)


def margin_sentence(place: str, height: float, margins: tuple[CriterionMargin, ...]) -> str:
    """What a place may still take and which criterion fails first, in words.

    Rules that can be judged come first; of those to be confirmed the tightest is named too.

    Args:
        place: as the subject of a sentence, such as "the roof".
        height: [m] of it above the design waterline.
        margins: one for each criterion, at that height.
    """
    judged = [a for a in margins if a.can_be_judged]
    others = [a for a in margins if not a.can_be_judged]
    where = f"{place[:1].upper()}{place[1:]}, {height:.2f} m above the design waterline,"
    sentences = [f"{where} {_may(judged)}."] if judged else []
    if others:
        sentences.append(f"To be confirmed: {where if not judged else 'it'} {_may(others)}.")
    return " ".join(sentences)


def _limit(facts_at: LeversAt, rule: Rule, *, kept: bool) -> VcgLimit:
    way = STEP if kept else -STEP
    last = 0.0
    for step in range(1, round(FARTHEST / STEP) + 1):
        rise = way * step
        if _outcome(facts_at, rule, rise).keeps_the_limit is not kept:
            ends = (last, rise)
            found = brentq(lambda r: _outcome(facts_at, rule, r).margin, *ends, xtol=FINE)
            return VcgLimit(rule.criterion, float(found), True)
        last = rise
    return VcgLimit(rule.criterion, last, False)


def _outcome(facts_at: LeversAt, rule: Rule, rise: float) -> CriterionOutcome:
    answer = rule.worse(facts_at(rise))
    # whether a rule can be answered does not depend on the height of her weight
    assert isinstance(answer, CriterionOutcome)
    return answer


def _mass(margin: CriterionMargin) -> float:
    return 0.0 if isinstance(margin.answer, NoMargin) else margin.answer.mass


def _may(margins: list[CriterionMargin]) -> str:
    first = min(margins, key=_mass)
    criterion = first.criterion
    rule = f"“{criterion.title}” ({criterion.document.title}, {criterion.clause})"
    mass = f"{floor(_mass(first) / ROUND_KG) * ROUND_KG} kg"
    if isinstance(first.answer, NoMargin):
        if first.can_be_judged:
            return f"has no margin: {rule} is not met as she is"
        return f"has no margin: the VCG limit of {rule} is already exceeded"
    if isinstance(first.answer, MarginAtLeast):
        which = " that can be judged" if first.can_be_judged else ""
        return f"may take at least {mass}; up to that no criterion{which} fails"
    return f"may take {mass}; governing limit: {rule}"
