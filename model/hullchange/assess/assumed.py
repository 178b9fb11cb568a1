"""What is assumed of a boat: what it costs in plus/minus, and what to measure next."""

from collections.abc import Iterator

import numpy as np

from hullchange.afloat.floats_in_conditions import FloatInCondition, surveyed_row
from hullchange.afloat.slopes import ROWS
from hullchange.answer.assumed import AssumedPlusMinus, AssumedResult, OwnFigures
from hullchange.boat.boat import Boat
from hullchange.boat.figures import figures_of, still_there
from hullchange.document.assumed import holds_assumed, is_assumed
from hullchange.document.document import Document
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.plain_words import id_in_words
from hullchange.survey.as_found import AsSurveyed
from hullchange.survey.lines_error import NUMBERS
from hullchange.units import mm_of_m

LINES, APPENDAGES, MARKS, VCG = "hull.lines", "hull.appendages", "survey.marks", "survey.vcg"
ONE_BY_ONE = (LINES, APPENDAGES, "survey.aboard")
"""Groups whose entries are measured one by one."""
WORDS = {
    "hull.length_waterline_m": "the waterline's length",
    LINES: "the hull's lines",
    APPENDAGES: "keel and rudder",
    "hull.deck": "the deck's camber",
    "hull.plating": "the plating's thickness",
    MARKS: "the freeboards",
    VCG: "the height of the centre of gravity",
    "survey.inclining": "the inclining",
    "survey.aboard": "what was aboard at the survey",
    "changes": "the refit",
    "tanks": "the tanks",
    "targets": "the targets",
    "openings": "the openings",
    "existing": "house, cockpit and other parts as found",
    "conditions": "the loading conditions",
}
PLACES_WORDS = "the places of the freeboard marks"
INVENTED_FIRST = (WORDS[LINES], WORDS[MARKS])
"""What all else rests on: where it is invented outright it is to be measured first."""


def reason_unjudged(document: Document) -> str:
    """Why no stability criterion is judged, in a sentence; empty where all is measured."""
    hull, assumed = document.hull, document.assumed
    rests_on = []
    if holds_assumed(LINES, assumed):
        rests_on.append("assumed lines of the hull")
    if hull.appendages and holds_assumed(APPENDAGES, assumed):
        rests_on.append("an assumed keel or rudder")
    if _reads_assumed(document, assumed):
        rests_on.append("assumed freeboards")
    if document.survey.vcg is not None and is_assumed(f"{VCG}.z_m", assumed):
        rests_on.append("an assumed height of the centre of gravity")
    if not rests_on:
        return ""
    listed = " and ".join(filter(None, [", ".join(rests_on[:-1]), rests_on[-1]]))
    return f"Depends on {listed}: not judged until that is measured."


def assumed_of(boat: Boat, row: FloatInCondition) -> tuple[AssumedResult, ...]:
    """What is assumed, worst first.

    Args:
        boat: everything built.
        row: she as surveyed.
    """
    document = boat.document
    assumed, paths = still_there(document), figures_of(document) if document.assumed else ()
    found = []
    for group in dict.fromkeys(map(_group_of, assumed)):
        inside = tuple(path for path in assumed if _group_of(path) == group)
        result = AssumedResult(
            path=group,
            words=_words(document, group, inside),
            figures=sum(is_assumed(path, inside) for path in paths),
            plus_minus=_plus_minus(boat, row, group),
        )
        found.append(result)
    return tuple(sorted(found, key=_rank))


def own_figures(document: Document, assumed: tuple[AssumedResult, ...]) -> OwnFigures:
    """How many figures are the owner's, and what to measure next."""
    paths = figures_of(document)
    yours = sum(not is_assumed(path, document.assumed) for path in paths)
    return OwnFigures(yours=yours, all=len(paths), next=assumed[0] if assumed else None)


def assumed_findings(boat: Boat, as_surveyed: AsSurveyed) -> Iterator[Finding]:
    """One note for all that is assumed."""
    if not boat.document.assumed:
        return
    own = own_figures(boat.document, assumed_of(boat, surveyed_row(boat, as_surveyed)))
    if own.next is None:
        return
    known = own.next.plus_minus
    worth = "" if known is None else f", worth ±{known.gm_m:.2f} m of GM"
    sentence = (
        f"{own.yours} of {own.all} figures are yours; the others are assumed. Measure next: "
        f"{own.next.words}{worth}."
    )
    yield Finding("rests-on-assumed", Severity.NOTE, own.next.path, sentence)


def _rank(one: AssumedResult) -> tuple[int, float]:
    """The place of an assumption among others: the smaller, the worse."""
    if one.plus_minus is not None:
        return 1, -one.plus_minus.gm_m
    if one.words in INVENTED_FIRST or is_assumed(one.path, (LINES,)):
        return 0, float(one.words == WORDS[MARKS])
    return 2, -float(one.figures)


def _group_of(path: str) -> str:
    steps = path.split(".")
    return ".".join(steps[: 3 if ".".join(steps[:2]) in ONE_BY_ONE else 2])


def _words(document: Document, group: str, inside: tuple[str, ...]) -> str:
    if group == MARKS and not _reads_assumed(document, inside):
        return PLACES_WORDS
    if group in WORDS:
        return WORDS[group]
    name = group.rsplit(".", 1)[-1].replace("-", " ").replace("_", " ")
    return f"line {id_in_words(name)}" if is_assumed(group, (LINES,)) else name


def _reads_assumed(document: Document, assumed: tuple[str, ...]) -> bool:
    """Whether a reading of the freeboards is among what is assumed."""
    reads = (f"{MARKS}.{name}.freeboard_m" for name in document.survey.marks)
    return any(holds_assumed(one, assumed) for one in reads)


def _plus_minus(boat: Boat, row: FloatInCondition, group: str) -> AssumedPlusMinus | None:
    """What a group adds, where the document says that it is a guess and how good."""
    slopes = row.spread.slopes
    vcg, origin = boat.document.survey.vcg, boat.document.hull.from_
    if group == VCG and vcg is not None and vcg.from_ == "guessed":
        covariance = sum((c for path, c in row.causes if path == VCG), np.zeros((4, 4)))
        return _sd(np.diag(slopes.by_weight(covariance)))
    of_lines = is_assumed(group, (LINES,))
    by_error = [is_assumed(place, (group,)) for place in _places_of_errors(boat, row)]
    if not any(by_error) or (of_lines and (origin is None or origin.source != "dimensions")):
        return None
    return _sd((slopes.matrix[:, NUMBERS:][:, by_error] ** 2).sum(axis=1))


def _places_of_errors(boat: Boat, row: FloatInCondition) -> Iterator[str]:
    """Path of what each error of the hull is an error of, in their order."""
    moves = row.afloat.weights.shape.errors.moves
    for line, own in zip(boat.hull.lines.lines, moves, strict=True):
        yield from [f"{LINES}.{line.name}"] * len(own)
    yield LINES  # of splining
    yield from (f"{APPENDAGES}.{name}" for name in boat.hull.guessed)


def _sd(variances: FloatArray) -> AssumedPlusMinus:
    """One standard deviation of each, by the variances (8,) in [kg], [m] and [rad]."""
    sd = dict(zip(ROWS, np.sqrt(np.maximum(0.0, variances)).tolist(), strict=True))
    return AssumedPlusMinus(
        displacement_kg=sd["displacement"], trim_mm=mm_of_m(sd["trim"]), gm_m=sd["gm"]
    )
