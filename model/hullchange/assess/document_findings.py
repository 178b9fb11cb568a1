"""Findings on a document by itself, for `check` and for every answer."""

from collections.abc import Iterator

from hullchange.assess.assumed import assumed_findings
from hullchange.assess.findings import survey_findings
from hullchange.assess.voids import void_findings
from hullchange.boat import line_readings
from hullchange.boat.boat import Boat
from hullchange.boat.opening_fits import opening_findings
from hullchange.findings import Finding, Severity
from hullchange.input_checks.overlaps import clashes
from hullchange.input_checks.places import place_findings
from hullchange.input_checks.survey import reading_findings
from hullchange.input_checks.typical import Size, typical_findings
from hullchange.input_checks.weights import weight_findings
from hullchange.survey.as_found import AsSurveyed
from hullchange.units import mm_of_m


def input_check_findings(
    boat: Boat, as_surveyed: AsSurveyed, before: Boat | None = None
) -> Iterator[Finding]:
    """Everything doubtful about hull, parts, survey, places, weights, steel and figures.

    Args:
        boat: everything built.
        as_surveyed: the boat as found.
        before: the boat before a drag, whose answers stand for what takes longer than a drag
            may: readings are left out where her lines were others, and steel that lies in
            other steel is what it was where the same parts were aboard.
    """
    mass = float(as_surveyed.afloat.numbers[0])
    if before is None or line_readings.same_readings(before.document, boat.document):
        yield from line_readings.reading_findings(boat.document)
    yield from boat.findings
    yield from _guessed_hull(boat)
    yield from assumed_findings(boat, as_surveyed)
    yield from survey_findings(boat, as_surveyed)
    yield from reading_findings(boat, as_surveyed)
    yield from place_findings(boat)
    yield from void_findings(boat)
    yield from weight_findings(boat, mass)
    yield from opening_findings(boat)
    has_same_parts = before and before.parts.keys() == boat.parts.keys()
    yield from clashes(before.parts if before and has_same_parts else boat.parts)
    length = boat.document.hull.length_waterline_m
    yield from typical_findings(boat.document, Size(length, boat.hull.beam, mass))


def _guessed_hull(boat: Boat) -> Iterator[Finding]:
    origin = boat.document.hull.from_
    if origin is not None and origin.source == "dimensions":
        sentence = (
            "The hull is guessed from main dimensions, its points known to "
            f"±{mm_of_m(origin.plus_minus_m):.0f} mm: trends and kg/cm are usable, GM and "
            "criteria are not reliable. Measure her lines."
        )
        yield Finding("hull-guessed", Severity.WARN, "hull.from", sentence)
