"""Boats to be floated: as found, as the refit, and the refit with something left out.

An effect is the difference of two of these floated alike, never an estimate.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.entries import LedgerEntry
from hullchange.boat.weights import (
    WeightSum,
    error_of_datum,
    error_of_scale,
    sum_of_alike,
    total,
)
from hullchange.document.document import Allowances
from hullchange.floating.envelope import Piece
from hullchange.units import m_of_mm

PLATE, SCALE, DATUM = "plate tolerance", "one scale", "one datum"
"""Causes that many lines have in common."""
GO_WITH_A_PART = ("part", "allowance", "moved")
"""Roles of lines that a part takes along when it is left out; what it carries moves back."""


@dataclass(frozen=True, eq=False)
class Variant:
    """One boat.

    Attributes:
        stage: which boat's tanks and openings it has.
        entries: lines of the ledger that are done to it.
        bodies: closed volumes other than hull and appendages.
        allowances: what its lines err by together.
    """

    stage: Stage
    entries: tuple[LedgerEntry, ...]
    bodies: tuple[Piece, ...]
    allowances: Allowances

    @cached_property
    def known(self) -> WeightSum:
        """The same without what is not known of it: all that an effect asks."""
        return total(entry.known for entry in self.entries)

    @property
    def causes(self) -> Iterator[tuple[str, WeightSum]]:
        """What its lines add to the boat as found, by independent causes of their errors.

        A line's own error goes by its path.  All new plate is rolled to one tolerance, what is
        weighed is read on one scale, and every place is taped from one datum.
        """
        yield from ((e.weight.path, e.account) for e in self.entries if e.role != "part")
        yield PLATE, sum_of_alike(e.weight for e in self.entries if e.role == "part")
        weighed = total(e.known for e in self.entries if e.weight.provenance == "weighed")
        yield SCALE, error_of_scale(weighed, self.allowances.scale_percent / 100.0)
        yield DATUM, error_of_datum(self.known, m_of_mm(self.allowances.datum_mm))

    @property
    def account(self) -> WeightSum:
        """What its lines add to the boat as found, with all that is not known of it."""
        return total(account for _, account in self.causes)

    @property
    def taken_off(self) -> frozenset[str]:
        """Names under survey.aboard that its lines take off."""
        return frozenset(entry.aboard for entry in self.entries if entry.aboard)


def as_found(boat: Boat) -> Variant:
    """The boat as surveyed."""
    bodies = tuple(body for part in boat.existing.values() for body in part.bodies)
    return Variant("as_found", (), bodies, boat.document.allowances)


def refit(boat: Boat) -> Variant:
    """The boat with every change."""
    return with_changes(boat, boat.document.changes)


def with_changes(boat: Boat, names: Iterable[str]) -> Variant:
    """The boat with some of the changes; what the others would replace is still there."""
    done = frozenset(names)
    gone = {_replaced(boat, name) for name in done}
    kept = [part for name, part in boat.existing.items() if name not in gone]
    new = [part for part in boat.parts.values() if part.change in done]
    return Variant(
        "refit",
        tuple(entry for entry in boat.entries if entry.change in done),
        tuple(body for part in (*kept, *new) for body in part.bodies),
        boat.document.allowances,
    )


def without_change(boat: Boat, change: str) -> Variant:
    """The refit with one change left out."""
    return with_changes(boat, (name for name in boat.document.changes if name != change))


def without_part(boat: Boat, part: str, whole: Variant) -> Variant:
    """The refit with a part out, the steel it replaces back, and what it lifted back down.

    The existing part of the same kind that its change replaces floats (or floods) again.
    """
    gross = without_part_gross(boat, part, whole)
    bare = replace(gross, entries=tuple(e for e in gross.entries if e.replaced_by != part))
    back = _replaced(boat, boat.parts[part].change)
    if back in boat.existing and _same_kind(boat, back, part):
        return replace(bare, bodies=(*bare.bodies, *boat.existing[back].bodies))
    return bare


def without_part_gross(boat: Boat, part: str, whole: Variant) -> Variant:
    """The refit with a part out and what it lifted back down, no old steel put back.

    Its steel goes with its weld metal and paint, and with its volume.
    """
    owned = {id(body) for body in boat.parts[part].bodies}
    return replace(
        whole,
        entries=tuple(
            entry
            for entry in whole.entries
            if not (entry.rides_on == part and entry.role in GO_WITH_A_PART)
        ),
        bodies=tuple(body for body in whole.bodies if id(body) not in owned),
    )


def without_entries(undone: Iterable[LedgerEntry], whole: Variant) -> Variant:
    """The refit with some lines of the ledger undone, volumes untouched."""
    out = {id(entry) for entry in undone}
    return replace(whole, entries=tuple(e for e in whole.entries if id(e) not in out))


def _replaced(boat: Boat, change: str) -> str:
    """Name of the existing part that a change replaces, or empty."""
    path = boat.document.changes[change].replaces
    return "" if path is None else path.removeprefix("existing.")


def _same_kind(boat: Boat, existing: str, part: str) -> bool:
    return boat.existing[existing].part.kind == boat.parts[part].part.kind
