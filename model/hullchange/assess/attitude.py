"""How she lies at rest: a list, a trim, and what of her is under water that should be dry."""

from collections.abc import Iterator
from math import radians, tan

import numpy as np

from hullchange.afloat.floats_in_conditions import FloatInCondition
from hullchange.afloat.stability import deck_edge
from hullchange.answer.assessment import ConditionResult
from hullchange.answer.cautions import COMMON_PRACTICE
from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.boat.conditions import LoadingCondition
from hullchange.boat.variants import as_found, refit
from hullchange.boat.wells import coaming_corners, wells_of
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.parts.parameters import BowPlatform, Cockpit, TransomExtension
from hullchange.plain_words import id_in_words, in_condition
from hullchange.units import mm_of_m

LIST_DEG = 1.0
TRIM_SHARE = 0.015
"""Of the waterline's length."""
MM_PER_CM = 10.0
ROUND = 1e-3  # [m] how far the chords of a platform's corners may be off


def lying_findings(
    boat: Boat, row: FloatInCondition, answer: ConditionResult, boat_name: str
) -> Iterator[Finding]:
    """Findings on trim and list, whether or not a target was set.

    Args:
        boat: everything built.
        row: the float, not capsized.
        answer: what was answered for it.
        boat_name: as it stands in a sentence.
    """
    where = in_condition(row.condition.id)
    place = f"conditions.{row.condition.id}"
    flooded = _flooded_words(row.condition)
    if row.rest.upright_stable:
        yield from _listed(answer, place, (f"The {boat_name} lists", where, flooded))
    yield from _trimmed(boat, answer, place, (f"The {boat_name} trims", where, flooded))
    remedy = flooded or "Take weight off there, or bring her back to an even keel."
    for code, name, points in _kept_dry(boat, row):
        under = _under_words(row.rest.plane, points)
        if under:
            sentence = f"{name} of the {boat_name} lies {under} {where}. {remedy}"
            yield Finding(code, Severity.FAIL, place, sentence)


def _flooded_words(condition: LoadingCondition) -> str:
    """What helps where the water in her is the cause; empty where she is dry."""
    helps = [
        ("a smaller well holds less, larger drains empty it sooner", condition.floods),
        ("one more watertight bulkhead keeps more of it out", condition.compartments),
    ]
    listed = "; ".join(words for words, flooded in helps if flooded)
    return f"She has water in her: {listed}." if listed else ""


def _listed(
    answer: ConditionResult, place: str, words: tuple[str, str, str]
) -> Iterator[Finding]:
    """A list beyond the usual; words: its subject, in which condition, what helps."""
    lists, where, flooded = words
    heel = answer.heel_deg
    if abs(heel) <= LIST_DEG:
        return
    moment = answer.displacement_kg * answer.gm_m * tan(radians(abs(heel)))
    side, other = ("starboard", "port") if heel > 0.0 else ("port", "starboard")
    sentence = f"{lists} {abs(heel):.1f}° to {side} {where}; up to {LIST_DEG:.0f}° is usual"
    sentence = (
        f"{sentence} while she is dry. {flooded}"
        if flooded
        else f"{sentence}. Move weight to {other}: about {moment:,.0f} kg·m."
    )
    yield Finding("list-at-rest", Severity.WARN, place, sentence, COMMON_PRACTICE)


def _trimmed(
    boat: Boat, answer: ConditionResult, place: str, words: tuple[str, str, str]
) -> Iterator[Finding]:
    """A trim beyond the usual; words as of a list."""
    trims, where, flooded = words
    trim, length = answer.trim_mm, boat.document.hull.length_waterline_m
    share = abs(trim) / mm_of_m(length)
    if share <= TRIM_SHARE:
        return
    moment = answer.trim_moment_kgm_per_cm * abs(trim) / MM_PER_CM
    end, other = ("stern", "forward") if trim > 0.0 else ("bow", "aft")
    sentence = (
        f"{trims} {abs(trim):,.0f} mm by the {end} {where}, {100.0 * share:.1f} % of her "
        f"waterline; up to {100.0 * TRIM_SHARE:.1f} % is usual"
    )
    sentence = (
        f"{sentence} while she is dry. {flooded}"
        if flooded
        else f"{sentence}. Move weight {other}: about {moment:,.0f} kg·m."
    )
    yield Finding("trim-at-rest", Severity.WARN, place, sentence, COMMON_PRACTICE)


def _under_words(plane: WaterPlane, points: FloatArray) -> str:
    """Depth and place of the lowest of some points under water; empty where it is dry."""
    heights = plane.height_above(points)
    x, y, _ = points[int(np.argmin(heights))].tolist()
    depth = -mm_of_m(float(heights.min()))
    if depth < 0.0:
        return ""
    side = "starboard" if y > 0.0 else "port"
    return f"{depth:.0f} mm under water at x {x:.2f} m to {side}"


def _kept_dry(boat: Boat, row: FloatInCondition) -> Iterator[tuple[str, str, FloatArray]]:
    """Code, name and points (n, 3) [m] of what has to stay above the water at rest."""
    yield "deck-edge-under-water", "The deck edge", deck_edge(boat)
    variant = as_found(boat) if row.stage == "as_found" else refit(boat)
    full = {well.name for well in wells_of(boat, variant, row.condition)}
    for part in _aboard(boat, row.stage):
        name = id_in_words(part.id)
        if isinstance(part.dimensions, Cockpit) and part.id not in full:
            corners = np.array(coaming_corners(part.dimensions))
            yield "coaming-under-water", f"The coaming of {name}", corners
        elif isinstance(part.dimensions, TransomExtension | BowPlatform):
            yield "platform-under-water", f"The platform of {name}", _platform(part)


def _aboard(boat: Boat, stage: Stage) -> Iterator[BuiltPart]:
    if stage == "as_found":
        yield from boat.existing.values()
        return
    replaced = {change.replaces for change in boat.document.changes.values()}
    yield from (part for part in boat.existing.values() if part.path not in replaced)
    yield from boat.parts.values()


def _platform(part: BuiltPart) -> FloatArray:
    """(n, 3) points [m] round the plate of a platform."""
    top = next(plate for plate in part.part.plates if plate.id in ("top", "platform"))
    return np.asarray(top.map.to_boat(top.outer.polyline(ROUND)))
