"""Readings of the survey that do not go with the hull, or with one another."""

from collections.abc import Iterator

import numpy as np

from hullchange.answer.cautions import COMMON_PRACTICE
from hullchange.boat.boat import Boat
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.plain_words import id_in_words
from hullchange.survey.as_found import AsSurveyed
from hullchange.units import mm_of_m

TAPED = 0.03  # [m] within which the sheer at a mark is the lines' own
FEWEST = 4  # readings, of which one may be blamed
OUTLYING = 6.0  # of their plus/minus, from which readings of an inclining contradict the line


def reading_findings(boat: Boat, as_surveyed: AsSurveyed) -> Iterator[Finding]:
    """What is doubtful about marks, the centre of gravity's height and an inclining."""
    yield from _marks(boat)
    yield from _height(
        boat, float(as_surveyed.afloat.numbers[3] / as_surveyed.afloat.numbers[0])
    )
    yield from _scatter(boat)


def _marks(boat: Boat) -> Iterator[Finding]:
    """Freeboard is read from the sheer: where that lies the lines know too."""
    for name, mark in boat.document.survey.marks.items():
        edge = float(boat.hull.sheer(np.array([mark.x_m]))[0, 2])
        beyond = max(boat.hull.stem_x - mark.x_m, mark.x_m - boat.hull.transom_x)
        if beyond > TAPED:
            sentence = (
                f"Mark {id_in_words(name)} lies {mm_of_m(beyond):,.0f} mm beyond the end of "
                "the sheer: is its place along the boat right?"
            )
            yield _asks("mark-off-the-sheer", f"survey.marks.{name}.x_m", sentence)
        elif abs(mark.sheer_z_m - edge) > TAPED:
            sentence = (
                f"The sheer at mark {id_in_words(name)} is entered at {mark.sheer_z_m:.3f} m, "
                f"but her lines have it at {edge:.3f} m: measure one of them again."
            )
            yield _asks("mark-off-the-sheer", f"survey.marks.{name}.sheer_z_m", sentence)


def _height(boat: Boat, height: float) -> Iterator[Finding]:
    """The finding where the entered VCG is above her metacentre or below her keel."""
    if boat.document.survey.vcg is None:
        return
    hull = hull_result(boat)
    if not -hull.draught_m <= height <= hull.km_m:
        end, limit = (
            ("above her metacentre", hull.km_m)
            if height > 0.0
            else ("below her keel", -hull.draught_m)
        )
        sentence = (
            f"The centre of gravity is entered at {height:+.2f} m, {end} at {limit:+.2f} m: is "
            "its height right?"
        )
        yield _asks("vcg-out-of-reach", "survey.vcg.z_m", sentence)


def _scatter(boat: Boat) -> Iterator[Finding]:
    """Shifted weights and heels lie on one line."""
    test = boat.document.survey.inclining
    if test is None or len(test.readings) < FEWEST:
        return
    moments = np.array([reading.moment_kgm for reading in test.readings])
    heels = np.array([reading.heel_deg for reading in test.readings])
    rows = range(len(moments))
    # the wrong one is that without which the others fit best, not that which lies farthest off
    worst = min(rows, key=lambda k: _misfit(np.delete(moments, k), np.delete(heels, k)))
    others = np.delete(moments, worst), np.delete(heels, worst)
    off = abs(heels[worst] - np.polyval(_line(*others), moments[worst]))
    widest = float(np.abs(heels).max())
    known = np.hypot(test.plus_minus_deg, test.plus_minus_moment_percent / 100.0 * widest)
    if off > OUTLYING * known:
        sentence = (
            f"Reading {worst + 1} of the inclining, {moments[worst]:g} kg·m and "
            f"{heels[worst]:g}°, is {off:.2f}° off the line through the others: is it right?"
        )
        yield _asks("inclining-scatters", f"survey.inclining.readings.{worst}", sentence)


def _line(moments: FloatArray, heels: FloatArray) -> FloatArray:
    return np.asarray(np.polyfit(moments, heels, 1)) if np.ptp(moments) else np.zeros(2)


def _misfit(moments: FloatArray, heels: FloatArray) -> float:
    return float(np.abs(heels - np.polyval(_line(moments, heels), moments)).max())


def _asks(code: str, place: str, sentence: str) -> Finding:
    return Finding(code, Severity.WARN, place, sentence, COMMON_PRACTICE)
