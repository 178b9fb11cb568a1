"""Openings as read after cutting out: new parts fitted to them, and what does not agree."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.boat.measured_opening import (
    GREEN,
    OpeningFit,
    OpeningReading,
    opening_drawn,
    opening_fit,
)
from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.geometry.host import Host
from hullchange.parts.parameters import Cockpit, Deckhouse
from hullchange.plain_words import id_in_words
from hullchange.units import mm_of_m

CLOSE = 3e-3
"""[m] a gap that a weld still fills (common practice, no source)."""

SCRIBED = 2e-3
"""[m] from which a lower edge is scribed to the deck (common practice, no source)."""

FAR = 0.25
"""[m] from which the opening may be another one (common practice, no source)."""

READING_WORDS = {
    "side_starboard_m": "starboard side",
    "side_port_m": "port side",
    "across_forward_m": "across the forward end",
    "across_aft_m": "across the after end",
    "diagonal_forward_starboard_m": "forward starboard to aft port",
    "diagonal_forward_port_m": "forward port to aft starboard",
    "sheer_mm": "sides: deck under the string",
    "camber_forward_mm": "forward end: deck over the string",
    "camber_aft_mm": "after end: deck over the string",
}
"""Readings as they are called beside their cells on the page."""


@dataclass(frozen=True)
class PartInOpening:
    """A new part and the opening it goes into, as values that another process can be sent.

    Attributes:
        id: of the part.
        path: of the part in the document.
        dimensions: of the part.
        drawn: what would be read of the opening that it is drawn for, by key [m].
        fit: how it meets what was read; None where nothing was, or where that fits no part.
        findings: about the fit.
    """

    id: str
    path: str
    dimensions: Deckhouse | Cockpit
    drawn: Mapping[str, float]
    fit: OpeningFit | None
    findings: tuple[Finding, ...]


def opening_findings(boat: Boat) -> Iterator[Finding]:
    """Findings on openings that were measured."""
    for part, given in _going_into_openings(boat):
        if given.opening is not None:
            yield from _opened(part, given, boat.hull).findings


def openings_read(boat: Boat) -> tuple[PartInOpening, ...]:
    """Every new part that goes into an opening."""
    return tuple(_opened(*row, boat.hull) for row in _going_into_openings(boat))


def _going_into_openings(boat: Boat) -> Iterator[tuple[BuiltPart, Deckhouse | Cockpit]]:
    for part in boat.parts.values():
        if isinstance(part.dimensions, Deckhouse | Cockpit):
            yield part, part.dimensions


def _opened(part: BuiltPart, given: Deckhouse | Cockpit, host: Host) -> PartInOpening:
    place = f"{part.path}.opening"
    drawn = opening_drawn(given, host)
    try:
        fit = opening_fit(given, host)
    except ModelError as error:
        sentence = (
            f"{id_in_words(part.id).capitalize()} cannot be fitted to its opening as measured: "
            f"{error.sentence}"
        )
        refused = (Finding(error.code, Severity.WARN, place, sentence),)
        return PartInOpening(part.id, part.path, given, drawn, None, refused)
    findings = tuple(_fit_findings(part, fit, place)) if fit else ()
    return PartInOpening(part.id, part.path, given, drawn, fit, findings)


def _fit_findings(part: BuiltPart, fit: OpeningFit, place: str) -> Iterator[Finding]:
    if fit.slip is None:
        sentence = (
            f"The opening for {id_in_words(part.id)}: no four corners match the six measured "
            f"distances. {_again(fit)}"
        )
        yield Finding("opening-without-corners", Severity.WARN, place, sentence)
    elif abs(fit.slip) > CLOSE:
        read = fit.spans[-1].read
        sentence = (
            f"The opening for {id_in_words(part.id)}: by the sides and one diagonal the other "
            f"is {mm_of_m(read - fit.slip):.0f} mm, but {mm_of_m(read):.0f} mm was measured. "
            f"{_again(fit)}"
        )
        yield Finding("opening-does-not-close", Severity.WARN, place, sentence)
    if fit.is_trusted:
        yield _met(part, fit, place)
    for row in fit.heights:
        by_lines = row.drawn if row.fitted is None else row.fitted
        if abs(row.read - by_lines) > SCRIBED:
            sentence = _scribed(part, row, by_lines)
            yield Finding("deck-differs", Severity.WARN, f"{place}.{row.key}", sentence)


def _again(fit: OpeningFit) -> str:
    """Which readings to take again, and what is not done until then."""
    until = "" if fit.is_trusted else ": no part is fitted to them until they agree"
    all_six = f"Measure all six again before anything is cut{until}."
    if fit.suspect is None:
        return all_six
    return (
        f"The other five agree with {mm_of_m(fit.suspect.others):.0f} mm for "
        f"{_named(fit.suspect.key)}, measured as {mm_of_m(fit.suspect.read):.0f} mm: check "
        f"that one first. {all_six}"
    )


def _met(part: BuiltPart, fit: OpeningFit, place: str) -> Finding:
    """How the part meets readings that agree with each other."""
    off, at = fit.worst(lambda row: row.drawn)
    if off <= CLOSE:
        sentence = (
            f"{id_in_words(part.id).capitalize()} fits its measured opening within "
            f"{mm_of_m(off):.0f} mm."
        )
        return Finding("opening-agrees", Severity.NOTE, place, sentence)
    far = " Make sure it is this part's opening." if off > FAR else ""
    sentence = (
        f"{id_in_words(part.id).capitalize()} misses its measured opening by up to "
        f"{mm_of_m(off):.0f} mm, at {_named(at)}.{far} {_remedy(fit)}"
    )
    return Finding("opening-differs", Severity.WARN, place, sentence)


def _remedy(fit: OpeningFit) -> str:
    left, at = fit.worst(lambda row: row.fitted)
    values = ", ".join(f"{key} {_plain(value)}" for key, value in fit.values.items())
    if not values:
        return (
            f"No symmetrical part comes closer than {mm_of_m(left):.0f} mm, at {_named(at)}: "
            "measure it again, or make the two sides of the opening alike."
        )
    if left <= CLOSE:
        return f"With {values} it fits within {mm_of_m(left):.0f} mm."
    return (
        f"{values} come closest and leave {mm_of_m(left):.0f} mm at {_named(at)}, which a "
        "symmetrical part cannot take up: leave extra steel there and scribe it."
    )


def _named(key: str) -> str:
    return f'"{READING_WORDS[key]}"'


def _plain(value: float | tuple[float, ...]) -> str:
    rows = value if isinstance(value, tuple) else (value,)
    words = ", ".join(f"{row:g}" for row in rows)
    return f"[{words}]" if isinstance(value, tuple) else words


def _scribed(part: BuiltPart, row: OpeningReading, by_lines: float) -> str:
    words = row.key.removesuffix("_mm").replace("_", " ")
    off = mm_of_m(row.read - by_lines)
    remedy = (
        "leave that much extra on the lower edge and scribe it, or correct the deck"
        if abs(row.read - by_lines) <= GREEN
        else "measure it again; if it is right, correct the deck's lines"
    )
    return (
        f"The deck under {id_in_words(part.id)}: {words} is {round(mm_of_m(row.read))} mm as "
        f"measured and {round(mm_of_m(by_lines))} mm by the hull's lines, {abs(off):.0f} mm "
        f"{'more' if off > 0.0 else 'less'}: {remedy}."
    )
