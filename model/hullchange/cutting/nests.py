"""Nests of every thickness, pieces that lie on none of them, and findings."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from hullchange.cutting.blanks import Sheets, shape_of, thickness_mm
from hullchange.findings import Finding, Severity
from hullchange.materials import STEEL_DENSITY
from hullchange.plain_words import id_in_words
from hullchange.shop.nest import Nest, Shape, Sheet, Spacing, fits
from hullchange.shop.nesting import Effort, ReportProgress, mean_rate, nests_of
from hullchange.shop.piece import PlatePiece
from hullchange.shop.quantities import MaterialBalance, mass_of, plate_balance
from hullchange.units import m_of_mm

PLACE = "stock.plates"


@dataclass(frozen=True, eq=False)
class PlateNests:
    """Everything cut from plate of one thickness.

    Attributes:
        thickness: [m].
        nests: sheets and leftovers with what lies on them.
        shapes: what lies on them, by id.
        account: what is bought, used and left.
        not_placed: pieces for which there is no room in stock.
        findings: what is to be known of these nests.
    """

    thickness: float
    nests: tuple[Nest, ...]
    shapes: Mapping[str, Shape]
    account: MaterialBalance
    not_placed: tuple[PlatePiece, ...]
    findings: tuple[Finding, ...]

    @property
    def mass_not_placed(self) -> float:
        """Mass [kg] of the pieces without room."""
        return sum(map(mass_of, self.not_placed))


def nested_plates(
    pieces: Sequence[PlatePiece],
    stock: Sheets,
    spacing: Spacing,
    effort: Effort,
    progress: ReportProgress,
) -> tuple[PlateNests, ...]:
    """Nests of every thickness there is, none where no plate of it is in stock.

    Raises:
        ModelError: ``nest-fails-check``.
    """
    rows = []
    every = sorted({thickness_mm(piece) for piece in pieces})
    for at, mm in enumerate(every, 1):
        own = [piece for piece in pieces if thickness_mm(piece) == mm]

        def report(words: str, which: str = f"{mm:g} mm plate, {at} of {len(every)}") -> None:
            progress(f"{which}, {words}")

        shapes = [shape_of(piece) for piece in own]
        nests, _ = nests_of(shapes, stock.get(mm, ()), spacing, effort, report)
        rows.append(plate_nests(own, nests, stock, spacing))
    return tuple(rows)


def plate_nests(
    pieces: Sequence[PlatePiece], nests: Sequence[Nest], stock: Sheets, spacing: Spacing
) -> PlateNests:
    """Nests with their account, and with the pieces that lie on none of them.

    Args:
        pieces: all of one thickness, one at least.
        nests: checked.
        stock: what they were nested on.
        spacing: gap and margin.
    """
    mm = thickness_mm(pieces[0])
    placed = {place.id for nest in nests for place in nest.places}
    shapes = {piece.id: shape_of(piece) for piece in pieces if piece.id in placed}
    rest = tuple(piece for piece in pieces if piece.id not in placed)
    sheets = stock.get(mm, ())
    findings = (*_no_room(rest, mm, sheets, spacing), *_no_price(mm, sheets))
    account = plate_balance(m_of_mm(mm), nests, shapes, spacing)
    return PlateNests(m_of_mm(mm), tuple(nests), shapes, account, rest, findings)


def _no_room(
    pieces: Sequence[PlatePiece], mm: float, sheets: Sequence[Sheet], spacing: Spacing
) -> Iterator[Finding]:
    """Pieces on no sheet; one larger than any sheet has its finding where it is split."""
    whole = [sheet for sheet in sheets if not sheet.leftover]
    marks = ", ".join(
        piece.id
        for piece in pieces
        if not whole or any(fits(shape_of(piece), sheet, spacing) for sheet in whole)
    )
    if not marks:
        return
    if not sheets:
        sentence = (
            f"No plate of {mm:g} mm is in stock, so these are not nested: {marks}. List its "
            "sizes among the plates in stock."
        )
        yield Finding("no-stock", Severity.WARN, PLACE, sentence)
    elif not whole:
        sentence = (
            f"The {mm:g} mm leftovers have no room for {marks}, and no whole sheets of {mm:g} "
            "mm are in stock: list their sizes among the plates in stock."
        )
        yield Finding("not-placed", Severity.WARN, PLACE, sentence)
    else:
        sentence = f"Plate of {mm:g} mm: {marks} are on none of the saved nests. Nest it again."
        yield Finding("not-placed", Severity.WARN, PLACE, sentence)


def _no_price(mm: float, sheets: Sequence[Sheet]) -> Iterator[Finding]:
    """Stock without a price, taken at the price of other stock."""
    whole = [sheet for sheet in sheets if not sheet.leftover]
    rate = mean_rate(whole)
    if rate is None:
        return
    of_a_kilogram = rate / (m_of_mm(mm) * STEEL_DENSITY)
    for name in dict.fromkeys(sheet.name for sheet in whole if sheet.price is None):
        sentence = (
            f"{id_in_words(name).capitalize()} has no price. For choosing sheets it is taken "
            f"at {of_a_kilogram:.2f} per kilogram, the mean of the priced {mm:g} mm plate: "
            "give its price."
        )
        yield Finding("price-missing", Severity.NOTE, f"{PLACE}.{name}", sentence)
