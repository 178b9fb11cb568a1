"""The hull of the document, built by the hull room and kept by what made it."""

from collections.abc import Mapping
from dataclasses import replace

from hullchange.cache import cached
from hullchange.document import sections
from hullchange.document.assumed import holds_assumed
from hullchange.document.document import Document
from hullchange.errors import DocumentError, Fault
from hullchange.hull.appendages import AppendageInput
from hullchange.hull.hull import Hull, HullInput, hull_of
from hullchange.hull.lines import AS_MEASURED, Exactness, LineInput
from hullchange.units import m_of_mm


def hull_from(document: Document) -> Hull:
    """The hull of a document, built once for the same lines, deck and appendages.

    Raises:
        DocumentError: with every fault of lines and appendages, each at its path.
    """
    names = document.hull.appendages
    guessed = (
        name for name in names if holds_assumed(f"hull.appendages.{name}", document.assumed)
    )
    return _hull(document.hull, tuple(guessed))


@cached(8)
def _hull(measured: sections.DocumentHull, guessed: tuple[str, ...]) -> Hull:
    try:
        return hull_of(replace(hull_input(measured), guessed=guessed))
    except DocumentError as error:
        faults = (Fault(f.code, f"hull.{f.place}", f.sentence) for f in error.faults)
        raise DocumentError(tuple(faults)) from error


def hull_input(measured: sections.DocumentHull) -> HullInput:
    """The hull's input, as the document gives it."""
    origin = measured.from_
    return HullInput(
        lines=line_inputs(measured.lines),
        camber=measured.deck.camber_m,
        camber_at_half_breadth=measured.deck.at_half_breadth_m,
        appendages=tuple(
            AppendageInput(
                name,
                part.outline_m,
                part.half_thickness_m,
                part.nose,
                part.at_y_m,
                part.cant_deg,
                part.pair,
            )
            for name, part in measured.appendages.items()
        ),
        plating=tuple(
            (name, m_of_mm(zone.thickness_mm)) for name, zone in measured.plating.items()
        ),
        exactness=Exactness(origin.plus_minus_m, origin.runs_along) if origin else AS_MEASURED,
    )


def line_inputs(lines: Mapping[str, sections.DocumentLine]) -> tuple[LineInput, ...]:
    """The lines, as the document gives them."""
    return tuple(
        LineInput(name, line.kind, line.points_m, line.knuckles_at_x_m)
        for name, line in lines.items()
    )
