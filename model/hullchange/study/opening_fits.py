"""Openings as read after cutting out: new parts fitted to them, and what does not agree."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.parts.measured_opening import (
    SPANS,
    OpeningFit,
    Reading,
    opening_drawn,
    opening_fit,
)
from hullchange.parts.parameters import Cockpit, Deckhouse
from hullchange.study.boat import Boat, BuiltPart
from hullchange.units import mm_of_m

CLOSE = 3e-3
"""[m] a gap that a weld still fills (common practice, no source)."""

SCRIBED = 2e-3
"""[m] from which a lower edge is scribed to the deck (common practice, no source)."""

_WORDS = {key: key.removesuffix("_m").removesuffix("_mm").replace("_", " ") for key in SPANS}


@dataclass(frozen=True)
class Opened:
    """A new part and the opening it goes into.

    Attributes:
        part: the part.
        drawn: what would be read of the opening that it is drawn for, by key [m].
        fit: how it meets what was read; None where nothing was, or where that fits no part.
        findings: what is said about it.
    """

    part: BuiltPart
    drawn: Mapping[str, float]
    fit: OpeningFit | None
    findings: tuple[Finding, ...]


def openings_read(boat: Boat) -> tuple[Opened, ...]:
    """Every new part that goes into an opening."""
    return tuple(_each(boat))


def _each(boat: Boat) -> Iterator[Opened]:
    for part in boat.parts.values():
        given = part.dimensions
        if not isinstance(given, Deckhouse | Cockpit):
            continue
        place = f"{part.path}.opening"
        drawn = opening_drawn(given, boat.hull)
        try:
            fit = opening_fit(given, boat.hull)
        except ModelError as error:
            sentence = f"{part.id} cannot be fitted to its opening as read: {error.sentence}"
            finding = Finding(error.code, Severity.WARN, place, sentence)
            yield Opened(part, drawn, None, (finding,))
            continue
        yield Opened(part, drawn, fit, tuple(_said(part, fit, place)) if fit else ())


def _said(part: BuiltPart, fit: OpeningFit, place: str) -> Iterator[Finding]:
    if abs(fit.slip) > CLOSE:
        read = fit.spans[-1].read
        sentence = (
            f"The opening for {part.id}: sides and one diagonal make the other "
            f"{mm_of_m(read - fit.slip):.0f} mm, and {mm_of_m(read):.0f} mm was read. Read all "
            "six again before anything is cut."
        )
        yield Finding("opening-does-not-close", Severity.WARN, place, sentence)
    now, then = _worst(fit.spans, drawn=True), _worst(fit.spans, drawn=False)
    if now[0] <= CLOSE:
        sentence = f"{part.id} meets its opening as read within {mm_of_m(now[0]):.0f} mm."
        yield Finding("opening-agrees", Severity.NOTE, place, sentence)
    else:
        yield Finding("opening-differs", Severity.WARN, place, _differs(part, fit, now, then))
    for row in fit.heights:
        if abs(row.read - row.fitted) > SCRIBED:
            yield Finding(
                "deck-differs", Severity.WARN, f"{place}.{row.key}", _scribed(part, row)
            )


def _worst(rows: tuple[Reading, ...], drawn: bool) -> tuple[float, str]:
    """Largest miss [m] and the reading it is at."""
    misses = ((abs(r.read - (r.drawn if drawn else r.fitted)), _WORDS[r.key]) for r in rows)
    return max(misses)


def _differs(
    part: BuiltPart, fit: OpeningFit, now: tuple[float, str], then: tuple[float, str]
) -> str:
    values = ", ".join(f"{key} {_plain(value)}" for key, value in fit.values.items())
    left = (
        f"With {values} it meets it within {mm_of_m(then[0]):.0f} mm"
        if then[0] <= CLOSE
        else f"{values} come closest and leave {mm_of_m(then[0]):.0f} mm at {then[1]}, which a "
        "part alike on both sides cannot take up: leave green there and scribe"
    )
    return (
        f"{part.id} misses its opening as read by up to {mm_of_m(now[0]):.0f} mm, at {now[1]}. "
        f"{left}."
    )


def _plain(value: float | tuple[float, ...]) -> str:
    rows = value if isinstance(value, tuple) else (value,)
    words = ", ".join(f"{row:g}" for row in rows)
    return f"[{words}]" if isinstance(value, tuple) else words


def _scribed(part: BuiltPart, row: Reading) -> str:
    words = row.key.removesuffix("_mm").replace("_", " ")
    off = mm_of_m(row.read - row.fitted)
    return (
        f"The deck under {part.id}: {words} is {mm_of_m(row.read):.0f} mm as read and "
        f"{mm_of_m(row.fitted):.0f} mm by the hull's lines, {abs(off):.0f} mm "
        f"{'more' if off > 0.0 else 'less'}: leave that much green on the lower edge and "
        "scribe it, or correct the deck."
    )
