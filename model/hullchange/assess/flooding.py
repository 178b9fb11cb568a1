"""Where the sea comes in first: one sentence, the angle by each rule, and what is found bad."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from hullchange.answer.assessment import ConditionResult
from hullchange.answer.heeled import FloodingByRule, OpeningResult
from hullchange.criteria.definitions import DEFINITIONS, LARGE_YACHT_OPENINGS, downflooding_by
from hullchange.criteria.facts import Absent, Sides
from hullchange.criteria.general import opening_in_words
from hullchange.criteria.levers import AtHeel
from hullchange.criteria.openings import DownfloodingOpening
from hullchange.findings import Finding, Severity
from hullchange.plain_words import in_condition
from hullchange.units import deg_of_rad

CM2_PER_M2 = 1e4
EARLY_DEG = 40.0
"""Source: UK Large Commercial Yacht Code LY3, 11.2.2.1 (opened in part)."""


@dataclass(frozen=True)
class Heels:
    """Heels to one side at which the sea comes in; None where it does not.

    Attributes:
        unclosed: [deg] first opening into the hull that nothing closes.
        in_use: [deg] the same with what people open at sea left open.
        any: [deg] first opening of all, wherever it leads, with all openings open.
    """

    unclosed: float | None
    in_use: float | None
    any: float | None


def heels_of(openings: Iterable[DownfloodingOpening]) -> Heels:
    """Heels at which openings to one side go under."""
    every = tuple(openings)
    hull = [one for one in every if one.into_hull]
    return Heels(
        _first(one for one in hull if one.closing == "none"),
        _first(one for one in hull if one.in_use is not False),
        _first(every),
    )


def _first(openings: Iterable[DownfloodingOpening]) -> float | None:
    wet = [one.immersion.heel for one in openings if isinstance(one.immersion, AtHeel)]
    return deg_of_rad(min(wet)) if wet else None


def by_rule(sides: Sides | Absent) -> tuple[FloodingByRule, ...]:
    """What each publication takes for downflooding, to the side where that comes first."""
    if isinstance(sides, Absent):
        return ()
    rows = []
    for rule in DEFINITIONS:
        to = {side.side: downflooding_by(side, rule) for side in sides}
        side = min(to, key=lambda one: to[one].angle.heel)
        found = to[side]
        reached = isinstance(found.angle, AtHeel)
        rows.append(
            FloodingByRule(
                id=rule.id,
                document=rule.document,
                openings=rule.openings,
                follows=rule.cut,
                angle_deg=deg_of_rad(found.angle.heel) if reached else None,
                opening=opening_in_words(found.opening),
                heeled_to=side if reached else None,
                undecided=tuple(map(opening_in_words, found.undecided)),
                source=rule.source,
                grade=rule.grade.value,
            )
        )
    return tuple(rows)


def critical_of(openings: Sequence[OpeningResult]) -> OpeningResult | None:
    """The first opening into the hull to go under that nothing closes."""
    return next(iter(_unclosed(openings)), None)


def headline(openings: Sequence[OpeningResult]) -> str:
    """Where the sea comes in first, in words: unclosed, the next, and what people open."""
    if not openings:
        return "No openings are entered, so where the sea comes in first is not known."
    return " ".join((*_of_unclosed(openings), *_of_opened(openings)))


def _of_unclosed(openings: Sequence[OpeningResult]) -> Iterator[str]:
    wet = _unclosed(openings)
    if not wet:
        unclosed = [o for o in openings if o.into_hull and o.closing == "none"]
        yield (
            "No unclosed opening into the hull goes under water at any heel."
            if unclosed
            else "Every opening into the hull can be closed."
        )
        return
    first, later = wet[0], wet[1:]
    yield (
        f"First unclosed opening under water: {_named(first)}, at {_at(first)} "
        f"({first.area_m2 * CM2_PER_M2:.0f} cm², nothing closes it, leads into the hull)."
    )
    if later:
        yield f"Next: {_listed(later)}."


def _of_opened(openings: Sequence[OpeningResult]) -> Iterator[str]:
    opened = [o for o in openings if o.into_hull and o.closing != "none"]
    opened = _one_each(o for o in opened if o.regular is not False)
    if opened:
        yield f"With boards out and hatches open the sea comes in through {_listed(opened)}."


def _unclosed(openings: Iterable[OpeningResult]) -> list[OpeningResult]:
    return _one_each(o for o in openings if o.into_hull and o.closing == "none")


def _one_each(openings: Iterable[OpeningResult]) -> list[OpeningResult]:
    """Openings that go under, each by the side that does first, in order of their angles."""
    known = [one for one in openings if one.immersion_angle_deg is not None]
    first: dict[str, OpeningResult] = {}
    for one in sorted(known, key=_angle):
        first.setdefault(one.id, one)
    return list(first.values())


def _angle(opening: OpeningResult) -> float:
    assert opening.immersion_angle_deg is not None
    return opening.immersion_angle_deg


def _at(opening: OpeningResult) -> str:
    return f"{_angle(opening):.1f}°"


def _named(opening: OpeningResult) -> str:
    name = opening_in_words(opening.id)
    return name if opening.side == "centreline" else f"{name}, {opening.side}"


def _listed(openings: Iterable[OpeningResult]) -> str:
    return ", ".join(f"{opening_in_words(one.id)} at {_at(one)}" for one in openings)


def open_findings(answers: Iterable[ConditionResult]) -> Iterator[Finding]:
    """Openings into the hull that nothing closes and go under before her levers vanish.

    Of those that people open at sea, the ones that go under so early that a rule forbids it.
    One finding for each, of the refit where she has it, in the condition where it comes first.
    """
    early: dict[str, dict[str, tuple[ConditionResult, OpeningResult]]] = {}
    for answer in answers:
        vanishing = answer.vanishing_angle_deg or 0.0
        for one in _one_each(o for o in answer.openings if o.into_hull):
            if _angle(one) < (vanishing if one.closing == "none" else _closed_limit(one)):
                of = early.setdefault(one.id, {})
                known = of.get(answer.stage)
                if known is None or _angle(one) < _angle(known[1]):
                    of[answer.stage] = (answer, one)
    for by_stage in early.values():
        yield _found(by_stage)


def _closed_limit(opening: OpeningResult) -> float:
    """[deg] before which an opening with a closing may not be under: that of one in use."""
    return EARLY_DEG if opening.regular else 0.0


def _found(by_stage: dict[str, tuple[ConditionResult, OpeningResult]]) -> Finding:
    answer, opening = by_stage.get("refit") or by_stage["as_found"]
    how = "which nothing closes" if opening.closing == "none" else "in use at sea"
    vanishing = answer.vanishing_angle_deg or 0.0
    rights = "from every heel" if vanishing >= 180.0 else f"up to {vanishing:.1f}°"
    sentence = (
        f"{_named(opening).capitalize()}, {how}, leads into the hull: it goes under at "
        f"{_at(opening)} {in_condition(answer.id)}"
    )
    if answer.stage == "refit" and "as_found" in by_stage:
        sentence += f" (as found {_at(by_stage['as_found'][1])})"
    sentence += f", though she rights herself {rights}"
    place, spreads = f"openings.{opening.id}", opening.progressive is not False
    if _angle(opening) < EARLY_DEG and spreads and not opening.tank_air_pipe:
        return Finding(
            "opening-floods-early",
            Severity.FAIL if answer.stage == "refit" else Severity.WARN,
            place,
            f"{sentence}. No opening may be under water before {EARLY_DEG:.0f}°: close it or "
            "raise it.",
            LARGE_YACHT_OPENINGS.source,
        )
    sentence += ". Her range ends where it goes under: fit a closing, or raise it."
    return Finding("opening-floods", Severity.WARN, place, sentence)
